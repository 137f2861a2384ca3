"""Runs every query of the dashboard, and every rule, against a Prometheus that has scraped a running service, and says which
give nothing.

usage: observe.py PROMETHEUS_URL DASHBOARD.json RUNBOOKS_ROOT
"""

import json
import pathlib
import re
import sys
import urllib.parse
import urllib.request


def asked(base, path, **query):
    with urllib.request.urlopen(f"{base}{path}?{urllib.parse.urlencode(query)}") as answer:
        return json.load(answer)


def main(base, dashboard, root):
    faults = []
    queries = 0
    written = []
    for panel in json.loads(pathlib.Path(dashboard).read_text(encoding="utf-8"))["panels"]:
        for target in panel["targets"]:
            queries += 1
            written.append(target["expr"])
            found = asked(base, "/api/v1/query", query=target["expr"].replace("$window", "1m"))
            if found["status"] != "success" or not found["data"]["result"]:
                faults.append(f"{panel['title']}: nothing comes of {target['expr']}")
    rules = [rule for group in asked(base, "/api/v1/rules")["data"]["groups"] for rule in group["rules"]]
    for rule in rules:
        if rule["health"] != "ok":
            faults.append(f"{rule['name']}: {rule['health']} {rule.get('lastError', '')}")
    written += [rule["query"] for rule in rules]
    # A misspelt name gives nothing, which an alert would take for all being well.
    exported = set(asked(base, "/api/v1/label/__name__/values")["data"])
    for name in sorted(set(re.findall(r"\b(?:vat_schemes|process)[a-z_:0-9]+", " ".join(written))) - exported):
        faults.append(f"{name}: the service exports no such metric, and no rule records it")
    named = set()
    for rule in (rule for rule in rules if rule["type"] == "alerting"):
        runbook = pathlib.Path(root, rule["annotations"]["runbook"])
        named.add(runbook)
        if not runbook.is_file() or f"`{rule['name']}`" not in runbook.read_text(encoding="utf-8"):
            faults.append(f"{rule['name']}: no runbook tells of it in {runbook}")
        if rule["state"] != "inactive":
            faults.append(f"{rule['name']}: {rule['state']} while all is well")
    for runbook in sorted(set(pathlib.Path(root, "deploy/runbooks").glob("*.md")) - named):
        faults.append(f"{runbook}: no alert names it")
    print(*faults, sep="\n")
    print(f"{queries} queries, {len(rules)} rules, {len(named)} runbooks: {len(faults)} at fault")
    return 1 if faults or not queries or not rules else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
