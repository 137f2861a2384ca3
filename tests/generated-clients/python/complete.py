"""Every operation and every object of the API document is in the generated client. Argument: the document."""

import importlib
import json
import sys
from pathlib import Path

from vat_schemes_client import models

# Newline-delimited JSON is beyond the generator.
NOT_GENERATED = {"create_comparison_batch"}


def main(document_path: str) -> None:
    document = json.loads(Path(document_path).read_text(encoding="utf-8"))
    operations = [operation for path in document["paths"].values() for operation in path.values()]
    for operation in operations:
        if operation["operationId"] not in NOT_GENERATED:
            module = f"vat_schemes_client.api.{operation['tags'][0]}.{operation['operationId']}"
            assert hasattr(importlib.import_module(module), "sync_detailed"), module
    objects = [name for name, schema in document["components"]["schemas"].items() if "properties" in schema]
    # A name that Python has for itself gets an underscore.
    missing = [name for name in objects if not hasattr(models, name) and not hasattr(models, f"{name}_")]
    if missing:
        sys.exit(f"these objects have no type in the client: {missing}")


if __name__ == "__main__":
    main(sys.argv[1])
