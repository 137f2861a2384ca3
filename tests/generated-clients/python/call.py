"""Calls the service through the generated package, and holds its answers to the examples kept beside the API document.

Arguments: the address of the service, and the folder of the examples.
"""

import json
import sys
from pathlib import Path
from typing import Any

from vat_schemes_client import Client
from vat_schemes_client.api.calculations import create_comparison, create_threshold_check
from vat_schemes_client.api.service import get_problem
from vat_schemes_client.models import ComparisonAnswer, ComparisonRequest, Problem, ProblemEntry, Sale, SaleTreatment
from vat_schemes_client.models import ThresholdCheck, ThresholdCheckRequest
from vat_schemes_client.types import Unset


def example(folder: str, name: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """The request and the answer of an example."""
    parts = json.loads(Path(folder, f"{name}.json").read_text(encoding="utf-8"))
    return parts["request"], parts["answer"]


def compare(client: Client, folder: str) -> None:
    """A comparison, as a whole and in the figures that a caller would show."""
    request, expected = example(folder, "comparison_limited_cost_business")
    answer = create_comparison.sync(client=client, body=ComparisonRequest.from_dict(request))
    assert isinstance(answer, ComparisonAnswer), answer
    assert answer.to_dict() == expected, "the comparison is not that of the example"
    assert answer.comparison.cheaper == expected["comparison"]["cheaper"]
    assert answer.standard.boxes.box5 == expected["standard"]["boxes"]["box5"]
    assert answer.flat_rate.boxes.box5 == expected["flat_rate"]["boxes"]["box5"]
    brief = create_comparison.sync(client=client, body=ComparisonRequest.from_dict(request), workings=False)
    assert isinstance(brief, ComparisonAnswer) and brief.workings == [], brief


def check_limits(client: Client, folder: str) -> None:
    """A check of the limits on turnover."""
    request, expected = example(folder, "threshold_check_of_totals")
    answer = create_threshold_check.sync(client=client, body=ThresholdCheckRequest.from_dict(request))
    assert isinstance(answer, ThresholdCheck), answer
    assert answer.to_dict() == expected, "the check is not that of the example"
    assert [action.on.isoformat() for action in answer.act_by] == [action["on"] for action in expected["act_by"]]


def be_refused(client: Client, folder: str) -> None:
    """A request that is refused: what is wrong is read through the generated type."""
    request = ComparisonRequest.from_dict(example(folder, "comparison_limited_cost_business")[0])
    request.sales = [Sale(treatment=SaleTreatment.STANDARD_RATED, net="24000.005")]
    response = create_comparison.sync_detailed(client=client, body=request)
    assert response.headers["content-type"] == "application/problem+json"
    problem = response.parsed
    assert isinstance(problem, Problem), problem
    assert response.status_code == problem.status == 400
    assert not isinstance(problem.errors, Unset)
    assert [error.pointer for error in problem.errors] == ["/sales/0/net"]
    entry = get_problem.sync(problem.code, client=client)
    assert isinstance(entry, ProblemEntry) and entry.code == problem.code


def types_know_their_fields() -> None:
    """Never called: that each line is an error of types is checked by mypy, which complains of an ignore in vain."""
    Sale(treatment=SaleTreatment.STANDARD_RATED, net=24000)  # type: ignore[arg-type]
    Sale(treatment="standard", net="24000.00")  # type: ignore[arg-type]
    Sale(net="24000.00")  # type: ignore[call-arg]


def main(address: str, folder: str) -> None:
    with Client(base_url=address) as client:
        compare(client, folder)
        check_limits(client, folder)
        be_refused(client, folder)
    print("Python: comparison, limits and problem are as the examples say")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2])
