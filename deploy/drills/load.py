"""Honest callers: each sends the same comparison again and again over a kept connection, and looks at every answer."""

import http.client
import threading
import time

PATH = "/v1/comparisons"
BODY = b"""{"period":{"start":"2026-04-01","end":"2026-06-30"},"business":{"registered_on":"2019-02-01",
"sector":"management-consultancy","flat_rate_from":"2019-02-01"},"sales":[{"treatment":"standard_rated","net":"24000.00",
"vat":"4800.00"},{"treatment":"exempt","net":"600.00"}],"purchases":[{"spend":"services","net":"1500.00","vat":"300.00"},
{"spend":"consumable_goods","net":"270.83","vat":"54.17"}]}"""
HEADERS = {"Content-Type": "application/json"}


class Load:
    """Callers in threads of their own, until they are told to stop."""

    def __init__(self, port, callers, pause=0.0):
        self.port, self.pause = port, pause
        self.answered, self.failures, self.times = 0, [], []
        self.expected = self.one(self.connect())
        self.lock, self.ending = threading.Lock(), threading.Event()
        self.threads = [threading.Thread(target=self.call) for _ in range(callers)]
        for thread in self.threads:
            thread.start()

    def connect(self):
        return http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)

    @staticmethod
    def one(connection):
        connection.request("POST", PATH, BODY, HEADERS)
        answer = connection.getresponse()
        return answer.status, answer.read()

    def call(self):
        connection = self.connect()
        while not self.ending.is_set():
            began = time.monotonic()
            try:
                answer = self.one(connection)
            except (OSError, http.client.HTTPException) as error:
                answer = (0, repr(error).encode())
                connection.close()
                connection = self.connect()
            took = time.monotonic() - began
            with self.lock:
                if answer == self.expected:
                    self.answered += 1
                    self.times.append(took)
                else:
                    self.failures.append((answer[0], answer[1][:200]))
            if self.pause:
                time.sleep(self.pause)
        connection.close()

    def stop(self):
        self.ending.set()
        for thread in self.threads:
            thread.join()
        times = sorted(self.times) or [0.0]
        return {
            "answered": self.answered,
            "failed": len(self.failures),
            "p50_ms": round(1000 * times[len(times) // 2], 2),
            "p99_ms": round(1000 * times[int(len(times) * 0.99)], 2),
        }
