"""Asks a running app for its pages, one after the other, and prints how long each took.

usage: pages.py BINARY BOOK
"""

import http.client
import json
import os
import subprocess
import sys
import time
import urllib.parse

ROUNDS = 5
LIMIT_MS = 30
START_LIMIT_MS = 200


class Reader:
    """One kept-alive connection, as a browser has."""

    def __init__(self, host, port):
        self.host, self.port = host, port
        self.line = http.client.HTTPConnection(host, port, timeout=60)

    def ask(self, path):
        started = time.perf_counter()
        self.line.request("GET", path)
        answer = self.line.getresponse()
        body = answer.read()
        took = 1000 * (time.perf_counter() - started)
        if answer.status != 200:
            sys.exit(f"{path} answered {answer.status}: {body[:300]!r}")
        return took, body

    def post(self, path, fields):
        """Stores something; returns milliseconds and where the app sends the reader next."""
        headers = {
            "Content-Type": "application/x-www-form-urlencoded",
            "Origin": f"http://{self.host}:{self.port}",
        }
        started = time.perf_counter()
        self.line.request("POST", path, urllib.parse.urlencode(fields), headers)
        answer = self.line.getresponse()
        body = answer.read()
        took = 1000 * (time.perf_counter() - started)
        if answer.status != 303:
            sys.exit(f"{path} answered {answer.status}: {body[:2000]!r}")
        return took, answer.headers["Location"]


def percentile(times, share):
    times = sorted(times)
    return times[min(len(times) - 1, int(share * len(times)))]


def tell(name, times):
    print(
        f"{name:44}{len(times):6}{percentile(times, 0.5):10.2f}{percentile(times, 0.95):10.2f}{max(times):10.2f}"
    )
    return percentile(times, 0.95)


def start(binary, book):
    """Starts the app; returns it, its address and the milliseconds until its first answer."""
    started = time.perf_counter()
    command = [binary, "serve", book, "--port", "0", "--json"]
    app = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    address = ""
    for line in app.stdout:
        if "http://" in line:
            address = line[line.index("http://") + 7 :].split("/")[0].split('"')[0].strip()
            break
    host, port = address.rsplit(":", 1)
    reader = Reader(host, int(port))
    reader.ask("/methods")
    return app, reader, 1000 * (time.perf_counter() - started)


def fastest_command(binary):
    times = []
    for _ in range(10):
        started = time.perf_counter()
        subprocess.run(
            [binary, "texture", "--sand", "40", "--silt", "40", "--clay", "20", "--json"],
            check=True,
            stdout=subprocess.DEVNULL,
        )
        times.append(1000 * (time.perf_counter() - started))
    return times


def main():
    binary, book = sys.argv[1:]
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}\n")
    print(f"{'':44}{'times':>6}{'median':>10}{'95 %':>10}{'most':>10}   ms")
    slowest_start = tell("a question on the command line", fastest_command(binary))
    app, reader, first = start(binary, book)
    try:
        tell("the app from start to first answer", [first])
        slow = run(reader)
    finally:
        app.terminate()
        app.wait()
    slow = [f"{name}: {took:.1f} ms" for name, took in slow if took > LIMIT_MS]
    if max(first, slowest_start) > START_LIMIT_MS:
        slow.append("the start")
    if slow:
        sys.exit("over the limit: " + ", ".join(slow))


def run(reader):
    tell("the farm page, first time", [reader.ask("/")[0]])
    farm = json.loads(reader.ask("/api/")[1])
    plots = [plot["id"] for plot in farm["plots"]]
    methods = [path for path in json.loads(reader.ask("/api/openapi.json")[1])["paths"] if "calc/" in path]
    names = [path.rsplit("/", 1)[1] for path in methods]
    slow = []

    def measure(name, paths):
        slow.append((name, tell(name, [reader.ask(path)[0] for path in paths])))

    measure("the farm page", ["/"] * 40)
    measure("plot pages, first time", [f"/plots/{plot}" for plot in plots])
    measure("plot pages", [f"/plots/{plot}" for plot in plots] * ROUNDS)
    measure("forms of a feel test", [f"/plots/{plot}/record/feel" for plot in plots] * 2)
    measure("history of a plot", [f"/plots/{plot}/history" for plot in plots] * 2)
    measure("the handbook", ["/methods"] * 20)
    measure("handbook pages", [f"/methods/{name}" for name in names if "{" not in name] * 2)
    measure("settings, sources, export", ["/settings", "/sources", "/export"] * 10)

    stored, plot_after, farm_after = [], [], []
    for plot in plots:
        took, _ = reader.post(f"/plots/{plot}/record/feel", FEEL)
        stored.append(took)
        plot_after.append(reader.ask(f"/plots/{plot}")[0])
        farm_after.append(reader.ask("/")[0])
    slow.append(("storing", tell("storing a feel test", stored)))
    slow.append(("its plot", tell("its plot page right after", plot_after)))
    slow.append(("the farm", tell("the farm page right after", farm_after)))
    return slow


FEEL = {}

main()
