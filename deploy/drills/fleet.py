"""Replicas of the service, and a real proxy before them."""

import json
import os
import pathlib
import signal
import socket
import subprocess
import tempfile
import time
import urllib.request

REPLICA = ["--drain-seconds", "3", "--shutdown-timeout-seconds", "30", "--log", "warn"]


def free_port():
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


class Replica:
    """One process of the service, always on the same two ports."""

    def __init__(self, binary, *options):
        self.binary, self.options = binary, options
        self.port, self.management = free_port(), free_port()
        self.process = None

    def start(self):
        addresses = ["--listen", f"127.0.0.1:{self.port}", "--management-listen", f"127.0.0.1:{self.management}"]
        environment = {name: value for name, value in os.environ.items() if not name.startswith("VAT_SCHEMES_")}
        self.process = subprocess.Popen(
            [self.binary, *addresses, *REPLICA, *self.options], env=environment, stdout=subprocess.DEVNULL
        )
        self.wait_until_ready()

    def wait_until_ready(self):
        for _ in range(600):
            try:
                with urllib.request.urlopen(f"http://127.0.0.1:{self.management}/health/ready", timeout=2):
                    return
            except OSError:
                time.sleep(0.05)
        raise RuntimeError("a replica does not become ready")

    def stop(self):
        self.process.send_signal(signal.SIGTERM)
        if self.process.wait(timeout=60) != 0:
            raise RuntimeError(f"a replica ended with {self.process.returncode}")

    def kill(self):
        self.process.kill()
        self.process.wait()

    def memory(self):
        """Resident memory in bytes."""
        for line in pathlib.Path(f"/proc/{self.process.pid}/status").read_text().splitlines():
            if line.startswith("VmRSS:"):
                return int(line.split()[1]) * 1024
        raise RuntimeError("the replica does not run")

    def metric(self, name):
        with urllib.request.urlopen(f"http://127.0.0.1:{self.management}/metrics", timeout=5) as page:
            for line in page.read().decode().splitlines():
                if line.startswith(f"{name} "):
                    return float(line.split()[1])
        return None


CONFIGURATION = """
global
    stats socket {socket} mode 600 level admin
defaults
    mode http
    timeout connect 2s
    timeout client 60s
    timeout server 60s
    timeout queue 10s
    # Every calculation is safe to send again.
    retries 3
    option redispatch
    retry-on {retry_on}
    option http-buffer-request
frontend api
    bind 127.0.0.1:{port}
    default_backend replicas
backend replicas
    balance leastconn
    option httpchk GET /health/ready
    http-check expect status 200
    default-server inter 300ms fall 2 rise 1 observe layer4 error-limit 1 on-error mark-down
{servers}
"""


class Proxy:
    """HAProxy, which asks each replica's management port whether it wants requests."""

    def __init__(self, replicas, retry_on):
        self.folder = tempfile.TemporaryDirectory()
        self.port = free_port()
        self.socket = f"{self.folder.name}/stats"
        servers = "\n".join(
            f"    server replica{number} 127.0.0.1:{replica.port} check port {replica.management}"
            for number, replica in enumerate(replicas)
        )
        configuration = CONFIGURATION.format(socket=self.socket, port=self.port, servers=servers, retry_on=retry_on)
        path = pathlib.Path(self.folder.name, "haproxy.cfg")
        path.write_text(configuration)
        self.process = subprocess.Popen(
            ["haproxy", "-f", str(path)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        for _ in range(100):
            if all(row["status"].startswith("UP") for row in self.servers()):
                return
            time.sleep(0.1)
        raise RuntimeError("the proxy finds no replica")

    def servers(self):
        """The proxy's own counts, server by server."""
        try:
            with socket.socket(socket.AF_UNIX) as stats:
                stats.connect(self.socket)
                stats.sendall(b"show stat\n")
                text = b""
                while piece := stats.recv(65536):
                    text += piece
        except OSError:
            return [{"status": "DOWN"}]
        head, *lines = [line.split(",") for line in text.decode().lstrip("# ").splitlines() if line]
        rows = [dict(zip(head, line)) for line in lines]
        return [row for row in rows if row["pxname"] == "replicas" and row["svname"] != "BACKEND"]

    def retries(self):
        return sum(int(row["wretr"]) + int(row["wredis"]) for row in self.servers())

    def stop(self):
        self.process.terminate()
        self.process.wait()
        self.folder.cleanup()


def describe(binary):
    """The machine and the build, for the record."""
    model = next(
        (line.split(":", 1)[1].strip() for line in open("/proc/cpuinfo", encoding="utf-8") if line.startswith("model name")),
        "unknown",
    )
    version = subprocess.run([binary, "--version"], capture_output=True, text=True, check=True).stdout.strip()
    return json.dumps({"processors": os.cpu_count(), "model": model, "service": version})
