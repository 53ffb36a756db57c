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
CHANGED = 16
LIMIT_MS = 30
START_LIMIT_MS = 200


class Reader:
    """One kept-alive connection, as a browser has."""

    def __init__(self, host, port, process):
        self.process = process
        self.host, self.port = host, port
        self.line = http.client.HTTPConnection(host, port, timeout=60)

    def worked(self):
        """Processor time of the program so far, ms, threads that ended included."""
        with open(f"/proc/{self.process}/stat") as stat:
            fields = stat.read().rsplit(")", 1)[1].split()
        return 1000 * (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

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


def tell(name, times, work=None):
    """One line; `work` is what the program itself computed per request, whoever else used the machine."""
    work = "" if work is None else f"{work:10.2f}"
    middle, late = percentile(times, 0.5), percentile(times, 0.95)
    print(f"{name:40}{len(times):6}{middle:10.2f}{late:10.2f}{max(times):10.2f}{work}", flush=True)
    return percentile(times, 0.95)


def start(binary, book):
    """Starts the app; returns it, its address and the milliseconds until its first answer."""
    started = time.perf_counter()
    command = [binary, "serve", book, "--port", "0"]
    app = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    address = ""
    for line in app.stdout:
        if "http://" in line:
            address = line[line.index("http://") + 7 :].split("/")[0].split('"')[0].strip()
            break
    host, port = address.rsplit(":", 1)
    reader = Reader(host, int(port), app.pid)
    reader.ask("/methods")
    return app, reader, 1000 * (time.perf_counter() - started)


def fastest_command(binary):
    times = []
    for _ in range(10):
        started = time.perf_counter()
        subprocess.run(
            [binary, "texture", "40", "40", "20", "--json"],
            check=True,
            stdout=subprocess.DEVNULL,
        )
        times.append(1000 * (time.perf_counter() - started))
    return times


def main():
    binary, book = sys.argv[1:]
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}\n")
    print(f"{'milliseconds':40}{'times':>6}{'median':>10}{'95 %':>10}{'most':>10}{'processor':>10}")
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
    tell("the farm page, first time", [reader.ask("/")[0]], reader.worked())
    farm = json.loads(reader.ask("/api")[1])
    plots = [plot["id"] for plot in farm["plots"]]
    methods = [path for path in json.loads(reader.ask("/api/openapi.json")[1])["paths"] if "calc/" in path]
    names = [path.rsplit("/", 1)[1] for path in methods]
    slow = []

    def measure(name, paths):
        before = reader.worked()
        times = [reader.ask(path)[0] for path in paths]
        slow.append((name, tell(name, times, (reader.worked() - before) / len(times))))

    measure("the farm page", ["/"] * 40)
    measure("plot pages, first time", [f"/plots/{plot}" for plot in plots])
    measure("plot pages", [f"/plots/{plot}" for plot in plots] * ROUNDS)
    measure("forms of a new sample", [f"/samples/new?plot={plot}" for plot in plots] * 2)
    measure("history of a plot", [f"/plots/{plot}/history" for plot in plots] * 2)
    measure("the handbook", ["/methods"] * 20)
    measure("handbook pages", [f"/methods/{name}" for name in names if "{" not in name] * 2)
    measure("settings, sources, export", ["/settings", "/sources", "/export"] * 10)

    # One plot's evidence goes and comes back; each time its own page and the farm's are asked for.
    stored, plot_after, farm_after = [], [], []
    before = reader.worked()
    for plot in plots[:: len(plots) // CHANGED]:
        evidence = json.loads(reader.ask(f"/api/plots/{plot}")[1])["evidence"]
        for record in [one["id"] for one in evidence[:2]]:
            for way in ("withdraw", "restore"):
                took, to = reader.post(f"/records/{record}/{way}", {"reason": "timing"})
                stored.append(took)
                plot_after.append(reader.ask(to)[0])
                farm_after.append(reader.ask("/")[0])
    work = (reader.worked() - before) / len(stored)
    slow.append(("storing", tell("storing a change (processor: all three)", stored, work)))
    slow.append(("its plot page", tell("its plot page right after", plot_after)))
    slow.append(("the farm page", tell("the farm page right after that", farm_after)))
    return slow


main()
