#!/usr/bin/env python3
"""Runs the benchmarks in turns and writes the tables of docs/benchmarks.md: compare.sh builds them and calls this.

    compare.py FOLDER_OF_PROGRAMS [ROUNDS] [only PART...]

In each round every program runs for a short while, so that a machine that is busy for a time is busy for all of them.
Times are those of the processor where nothing else is said; a figure is the median over the rounds, a ratio the median
of the ratios within each round.
"""
import json
import os
import subprocess
import sys
from pathlib import Path

from compare_tables import find_machine, write_tables

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
PARTS = ("pose", "product", "growth", "process", "screen")
NANOSECONDS = {"ns": 1.0, "us": 1e3, "ms": 1e6, "s": 1e9}


def find_python():
    """A Python that has numpy and SciPy: Debian's own, or the one that runs this."""
    for python in ("/usr/bin/python3", sys.executable):
        if subprocess.run([python, "-c", "import numpy, scipy"], capture_output=True, check=False).returncode == 0:
            return python
    print("compare: no Python with numpy and SciPy (python3-numpy, python3-scipy); they are left out")
    return None


def run(words):
    words = [str(w) for w in words]
    done = subprocess.run(words, capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL)
    if done.returncode != 0:
        sys.exit(f"compare: {words[0]} ended with {done.returncode}\n{done.stderr}")
    return done.stdout


def run_google(program, pattern, seconds, before=()):
    """One short turn, benchmarks in random order: {name: {"ns": processor, "wall": ns, counters}}."""
    text = run([*before, program, f"--benchmark_filter={pattern}", f"--benchmark_min_time={seconds}",
                "--benchmark_enable_random_interleaving=true", "--benchmark_repetitions=1", "--benchmark_format=json"])
    result = {}
    for b in json.loads(text[text.index("{"):])["benchmarks"]:
        if b.get("run_type") != "iteration" or b.get("error_occurred"):
            continue
        scale = NANOSECONDS[b["time_unit"]]
        known = {"cpu_time", "real_time", "iterations", "threads", "repetitions", "repetition_index", "family_index",
                 "per_family_instance_index"}
        counters = {k: v for k, v in b.items() if isinstance(v, (int, float)) and k not in known}
        result[b["run_name"]] = {"ns": b["cpu_time"] * scale, "wall": b["real_time"] * scale, **counters}
    return result


class Turns:
    """What each part ran in each round: {part: [{name: figures}]}."""

    def __init__(self, programs, parts):
        self.programs, self.parts, self.python = programs, parts, find_python()
        self.rounds = {part: [] for part in parts}
        self.problems = {}
        if "pose" in parts:
            for name, words in (("travel", ["travel"]), ("from_level", ["from_level"]), ("many", ["travel", "4096"]),
                                ("askew", ["askew", "4096"])):
                self.problems[name] = programs / f"bench_{name}.json"
                self.problems[name].write_text(run([programs / "bench_problem", *words]), encoding="ascii")

    def run_round(self):
        for part in self.parts:
            self.rounds[part].append(getattr(self, "run_" + part)())

    def run_pose(self):
        peers = run_google(self.programs / "bench_peers", ".", 0.02)
        figures = {name: {**f, "ns": f["pose"] * 1e9} for name, f in peers.items()}
        calls = [(path, "pose_numpy.py", [form]) for path in ("many", "travel") for form in ("closed_form", "in_plane")]
        calls.append(("askew", "pose_numpy.py", ["closed_form"]))
        unknowns = ("angles", "ball_and_pitch")
        calls += [(path, "pose_fsolve.py", [u]) for path in ("travel", "from_level") for u in unknowns]
        for path, script, more in calls if self.python else []:
            line = json.loads(run([self.python, HERE / script, self.problems[path], "0.05", *more]))
            figures[f"{path}/{line['name']}"] = line
        return figures

    def run_product(self):
        return run_google(self.programs / "bench", "-^(frame|edit|edit_and_frame|grow_).*", 0.05)

    def run_growth(self):
        return run_google(self.programs / "bench", "^grow_", 0.02)

    def run_process(self):
        lines = map(json.loads, run([self.programs / "bench_process", "5"]).splitlines())
        return {line["name"]: {"ns": line["processor_ms"] * 1e6, "wall": line["wall_ms"] * 1e6} for line in lines}

    def run_screen(self):
        screen = [] if "DISPLAY" in os.environ else [ROOT / "tests/gui/with_screen.sh"]
        return {**run_google(self.programs / "bench_screen", ".", 0.05, screen),
                **run_google(self.programs / "bench", "^edit/", 0.05)}


def read_words(words):
    rounds, parts = 7, PARTS
    if words and words[0].isdigit():
        rounds, words = max(1, int(words[0])), words[1:]
    if words and words[0] == "only":
        parts, words = tuple(words[1:]), []
    if words or not parts or any(p not in PARTS for p in parts):
        sys.exit(f"usage: compare.py FOLDER [ROUNDS] [only PART...]   parts: {' '.join(PARTS)}")
    return rounds, parts


def main():
    programs = Path(sys.argv[1])
    rounds, parts = read_words(sys.argv[2:])
    turns = Turns(programs, parts)
    for i in range(rounds):
        turns.run_round()
        print(f"round {i + 1} of {rounds}", file=sys.stderr)
    write_tables(ROOT / "docs/benchmarks.md", turns.rounds, find_machine(ROOT))


main()
