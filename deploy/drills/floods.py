"""Callers that mean no good, or know no better: each kind goes on until it is told to stop."""

import socket
import threading

HEAD = b"POST /v1/comparisons HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"


def with_length(body):
    return HEAD + b"Content-Length: %d\r\n\r\n" % len(body) + body


# What one caller of each kind sends over a connection of its own; a slow one sends it byte by byte.
KINDS = {
    "slow heads": (HEAD, True),
    "slow bodies": (HEAD + b"Content-Length: 1000\r\n\r\n" + b" " * 900, True),
    "oversized bodies": (with_length(b" " * (4 << 20)), False),
    "oversized heads": (HEAD + b"X-Padding: " + b"x" * 100_000 + b"\r\n\r\n", False),
    "deep nesting": (with_length(b"[" * 500_000), False),
    "malformed JSON": (with_length(b'{"sales": [{"net": 1e999,}' * 1000), False),
    "malformed HTTP": (b"\x16\x03\x01\x02\x00\x01\x00" * 50, False),
    "broken chunks": (HEAD + b"Transfer-Encoding: chunked\r\n\r\nFFFFFFFFFFFFFFFF\r\n{", False),
    "many wrong lines": (
        HEAD.replace(b"/comparisons", b"/comparisons/batch").replace(b"json", b"x-ndjson")
        + b"Content-Length: %d\r\n\r\n" % 200_000
        + b"{}\n[]\n  " * 25_000,
        False,
    ),
}


class Flood:
    """Callers of one kind."""

    def __init__(self, port, kind, callers):
        self.port = port
        self.bytes, self.slow = KINDS[kind]
        self.connections, self.ending = 0, threading.Event()
        self.lock = threading.Lock()
        self.threads = [threading.Thread(target=self.call) for _ in range(callers)]
        for thread in self.threads:
            thread.start()

    def call(self):
        while not self.ending.is_set():
            try:
                with socket.create_connection(("127.0.0.1", self.port), timeout=5) as connection:
                    with self.lock:
                        self.connections += 1
                    if self.slow:
                        for byte in self.bytes:
                            connection.sendall(bytes([byte]))
                            if self.ending.wait(0.1):
                                return
                    else:
                        connection.sendall(self.bytes)
                        connection.recv(65536)
            except OSError:
                # Being cut off is what it came for.
                self.ending.wait(0.01)

    def stop(self):
        self.ending.set()
        for thread in self.threads:
            thread.join()
        return self.connections
