"""Holds rendered manifests to the policies of this project; with --self-check shows that each of them can fail.

usage: kubernetes_policies.py RENDERED.yaml [--self-check]
"""

import copy
import re
import sys
import tomllib

import yaml

NAME = "app.kubernetes.io/name"
# A name with the end that depends on the content.
HASHED = re.compile(r"vat-schemes-[a-z]+-[0-9a-z]{10}")


def one(objects, kind, name="vat-schemes"):
    found = [item for item in objects if item["kind"] == kind and item["metadata"]["name"] == name]
    return found[0] if len(found) == 1 else None


def pod(objects):
    return one(objects, "Deployment")["spec"]["template"]["spec"]


def container(objects):
    return pod(objects)["containers"][0]


def variables(objects):
    return {variable["name"]: variable["value"] for variable in container(objects).get("env", [])}


def generated(objects):
    """What is made from files: settings, tables of law, keys."""
    return [item for item in objects if item["kind"] in ("ConfigMap", "Secret")]


def settings_map(objects):
    return next(item for item in generated(objects) if "settings.toml" in item["data"])


def settings_of(objects):
    return tomllib.loads(settings_map(objects)["data"]["settings.toml"])


def restricted(objects):
    """The pod passes the restricted profile of the pod security standards."""
    of_pod, of_container = pod(objects)["securityContext"], container(objects)["securityContext"]
    return (
        of_pod["runAsNonRoot"] is True
        and of_pod["runAsUser"] == 65532
        and of_pod["seccompProfile"]["type"] == "RuntimeDefault"
        and of_container["allowPrivilegeEscalation"] is False
        and of_container["capabilities"] == {"drop": ["ALL"]}
        and not any("hostPath" in volume for volume in pod(objects)["volumes"])
        and not any(pod(objects).get(name) for name in ("hostNetwork", "hostPID", "hostIPC"))
    )


def namespace_enforces_it(objects):
    """The namespace has the cluster enforce that profile."""
    labels = one(objects, "Namespace")["metadata"]["labels"]
    return labels.get("pod-security.kubernetes.io/enforce") == "restricted"


def nothing_is_written(objects):
    """The root file system and what is mounted are read-only."""
    return container(objects)["securityContext"]["readOnlyRootFilesystem"] is True and all(
        mount["readOnly"] is True for mount in container(objects)["volumeMounts"]
    )


def no_token(objects):
    """Neither a token of the cluster nor its variables are given to the pod."""
    return (
        pod(objects)["automountServiceAccountToken"] is False
        and pod(objects)["enableServiceLinks"] is False
        and one(objects, "ServiceAccount")["automountServiceAccountToken"] is False
    )


def probes_ask_the_management_port(objects):
    """Every probe asks the management port; only readiness and start ask whether requests are wanted."""
    paths = {"startupProbe": "/health/ready", "readinessProbe": "/health/ready", "livenessProbe": "/health/live"}
    return all(
        container(objects)[probe]["httpGet"] == {"path": path, "port": "management"} for probe, path in paths.items()
    )


def memory_is_bounded(objects):
    """Memory asked for is memory allowed; the processor is asked for and not throttled."""
    resources = container(objects)["resources"]
    return (
        resources["requests"]["memory"] == resources["limits"]["memory"]
        and "cpu" in resources["requests"]
        and "cpu" not in resources["limits"]
    )


def memory_covers_what_callers_send(objects):
    """The memory allowed covers every body that may be under way, twice for its answer, and 32 MiB for the service itself."""
    settings = settings_of(objects)
    bodies = settings["max_concurrent_requests"] * settings["max_body_bytes"]
    allowed = container(objects)["resources"]["limits"]["memory"]
    return allowed.endswith("Mi") and int(allowed[:-2]) * 1024**2 >= 2 * bodies + 32 * 1024**2


def grace_covers_the_stop(objects):
    """The time between SIGTERM and SIGKILL covers draining, what is under way and the last spans, with five seconds to spare."""
    settings = settings_of(objects)
    last_spans = 3 if "VAT_SCHEMES_OTLP_ENDPOINT" in variables(objects) else 0
    needed = settings["drain_seconds"] + settings["shutdown_timeout_seconds"] + last_spans + 5
    return pod(objects)["terminationGracePeriodSeconds"] >= needed


def draining_covers_the_news(objects):
    """A replica goes on answering until its failing readiness has been seen, and five seconds for proxies to follow."""
    probe = container(objects)["readinessProbe"]
    seen = probe["periodSeconds"] * probe["failureThreshold"] + probe["timeoutSeconds"]
    return settings_of(objects)["drain_seconds"] >= seen + 5


def rolling_takes_none_away(objects):
    """A new version comes before an old one goes."""
    rolling = one(objects, "Deployment")["spec"]["strategy"]["rollingUpdate"]
    return rolling["maxUnavailable"] == 0 and rolling["maxSurge"] >= 1


def replicas(objects):
    autoscaler = one(objects, "HorizontalPodAutoscaler")
    of_deployment = one(objects, "Deployment")["spec"].get("replicas")
    if autoscaler is None:
        return of_deployment
    # Two hands on one number: the autoscaler's would be undone at each rollout.
    return autoscaler["spec"]["minReplicas"] if of_deployment is None else 0


def more_than_one(objects):
    """At least two replicas, and only one place says how many."""
    return replicas(objects) >= 2


def one_may_go(objects):
    """The disruption budget keeps at least one replica, and lets at least one go."""
    budget = one(objects, "PodDisruptionBudget")["spec"]
    return 1 <= budget["minAvailable"] < replicas(objects) and budget["unhealthyPodEvictionPolicy"] == "AlwaysAllow"


def spread(objects):
    """Replicas are spread over zones and nodes."""
    keys = {constraint["topologyKey"] for constraint in pod(objects)["topologySpreadConstraints"]}
    return {"topology.kubernetes.io/zone", "kubernetes.io/hostname"} <= keys


def policies(objects):
    return [item for item in objects if item["kind"] == "NetworkPolicy"]


def closed_network(objects):
    """Nobody may call but those named, the management port is for monitoring alone, and nothing is asked of anybody but a collector."""
    ports = {}
    asked = []
    for policy in policies(objects):
        for rule in policy["spec"].get("egress", []):
            if not rule.get("to"):
                return False
            asked += [port["port"] for port in rule["ports"]]
        for rule in policy["spec"].get("ingress", []):
            if not rule.get("from"):
                return False
            for port in rule["ports"]:
                ports.setdefault(port["port"], []).append(policy["metadata"]["name"])
    return (
        one(objects, "NetworkPolicy")["spec"]["policyTypes"] == ["Ingress", "Egress"]
        and one(objects, "NetworkPolicy")["spec"]["egress"] == []
        and asked == ([4318, 53, 53] if "VAT_SCHEMES_OTLP_ENDPOINT" in variables(objects) else [])
        and ports == {"http": ["vat-schemes"], "management": ["vat-schemes-monitoring"]}
    )


def the_service_leads_to_the_api(objects):
    """The service has the API's port and no other."""
    return [port["targetPort"] for port in one(objects, "Service")["spec"]["ports"]] == ["http"]


def selectors_agree(objects):
    """What selects pods selects these."""
    labels = one(objects, "Deployment")["spec"]["template"]["metadata"]["labels"]
    selectors = [
        one(objects, "Service")["spec"]["selector"],
        one(objects, "Deployment")["spec"]["selector"]["matchLabels"],
        one(objects, "PodDisruptionBudget")["spec"]["selector"]["matchLabels"],
        *(policy["spec"]["podSelector"]["matchLabels"] for policy in policies(objects)),
    ]
    return all(selector.get(NAME) == "vat-schemes" and selector.items() <= labels.items() for selector in selectors)


def files_roll_out(objects):
    """What is made from files has a name that changes with them, and is mounted by it."""
    mounted = {
        volume.get("configMap", {}).get("name") or volume.get("secret", {}).get("secretName")
        for volume in pod(objects)["volumes"]
    }
    names = [item["metadata"]["name"] for item in generated(objects)]
    return len(names) > 0 and all(name in mounted and HASHED.fullmatch(name) for name in names)


def secrets_are_for_the_group(objects):
    """Secrets are readable by the service's group and by nobody else."""
    return all(
        volume["secret"]["defaultMode"] == 0o440 for volume in pod(objects)["volumes"] if "secret" in volume
    )


def a_version_is_named(objects):
    """The image has a tag that is not moved."""
    image = container(objects)["image"]
    return ":" in image.rsplit("/", 1)[-1] and not image.endswith(":latest")


def at(*path):
    """A mutation that sets a place of the pod's container or of another object."""
    *way, last, value = path

    def change(objects):
        place = objects
        for step in way:
            place = step(place) if callable(step) else place[step]
        if value is DELETED:
            del place[last]
        else:
            place[last] = value

    return change


DELETED = object()


def edit_settings(**values):
    def change(objects):
        held = settings_map(objects)
        changed = settings_of(objects) | values
        held["data"]["settings.toml"] = "".join(
            f"{key} = {value!r}\n".replace("'", '"') for key, value in changed.items()
        )

    return change


def of(kind, name="vat-schemes"):
    return lambda objects: one(objects, kind, name)


def volume_of(name):
    return lambda objects: next(volume for volume in pod(objects)["volumes"] if volume["name"] == name)


# Each policy, with a change that must make it fail.
POLICIES = [
    (restricted, at(container, "securityContext", "allowPrivilegeEscalation", True)),
    (restricted, at(pod, "securityContext", "runAsUser", 0)),
    (restricted, at(pod, "hostNetwork", True)),
    (namespace_enforces_it, at(of("Namespace"), "metadata", "labels", {})),
    (nothing_is_written, at(container, "securityContext", "readOnlyRootFilesystem", False)),
    (no_token, at(pod, "automountServiceAccountToken", True)),
    (no_token, at(pod, "enableServiceLinks", True)),
    (probes_ask_the_management_port, at(container, "livenessProbe", "httpGet", "path", "/health/ready")),
    (probes_ask_the_management_port, at(container, "readinessProbe", "httpGet", "port", "http")),
    (memory_is_bounded, at(container, "resources", "limits", "memory", "1Gi")),
    (memory_covers_what_callers_send, edit_settings(max_concurrent_requests=113)),
    (memory_covers_what_callers_send, at(container, "resources", "limits", "memory", "159Mi")),
    (grace_covers_the_stop, at(pod, "terminationGracePeriodSeconds", 46)),
    (grace_covers_the_stop, edit_settings(shutdown_timeout_seconds=34)),
    (draining_covers_the_news, edit_settings(drain_seconds=10)),
    (draining_covers_the_news, at(container, "readinessProbe", "periodSeconds", 3)),
    (rolling_takes_none_away, at(of("Deployment"), "spec", "strategy", "rollingUpdate", "maxUnavailable", 1)),
    (more_than_one, at(of("Deployment"), "spec", "replicas", 1)),
    (one_may_go, at(of("PodDisruptionBudget"), "spec", "minAvailable", 3)),
    (spread, at(pod, "topologySpreadConstraints", [])),
    (closed_network, at(of("NetworkPolicy"), "spec", "egress", [{}])),
    (closed_network, at(of("NetworkPolicy"), "spec", "ingress", 0, "from", [])),
    (closed_network, at(of("NetworkPolicy"), "spec", "ingress", 0, "ports", [{"port": "management"}])),
    (the_service_leads_to_the_api, at(of("Service"), "spec", "ports", 0, "targetPort", "management")),
    (selectors_agree, at(of("Service"), "spec", "selector", {NAME: "another"})),
    (files_roll_out, at(volume_of("settings"), "configMap", "name", "vat-schemes-settings")),
    (files_roll_out, lambda objects: settings_map(objects)["metadata"].update(name="vat-schemes-settings")),
    (
        secrets_are_for_the_group,
        lambda objects: pod(objects)["volumes"].append({"name": "open", "secret": {"defaultMode": 0o444}}),
    ),
    (a_version_is_named, at(container, "image", "registry.example/vat-schemes:latest")),
]


def holds(policy, objects):
    try:
        return bool(policy(objects))
    except (KeyError, TypeError, IndexError, AttributeError):
        return False


def main(rendered, *options):
    with open(rendered, encoding="utf-8") as text:
        objects = [item for item in yaml.safe_load_all(text) if item]
    kept = {policy.__name__ for policy, _ in POLICIES if holds(policy, objects)}
    failed = 0
    for policy in dict.fromkeys(policy for policy, _ in POLICIES):
        if policy.__name__ not in kept:
            failed += 1
            print(f"{rendered}: not kept: {policy.__doc__}")
    if "--self-check" in options:
        for number, (policy, change) in enumerate(POLICIES):
            changed = copy.deepcopy(objects)
            change(changed)
            if holds(policy, changed):
                failed += 1
                print(f"change {number} should break {policy.__name__}, and does not")
    print(f"{rendered}: {len(objects)} objects, {len(kept)} policies kept, {len(POLICIES)} changes tried")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
