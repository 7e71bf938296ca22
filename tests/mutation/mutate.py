#!/usr/bin/env python3
"""Mutation testing of geometry/: is every sign, comparison and limit held by some test?

  tests/mutation/mutate.py [--build FOLDER] [--count N] [--seed N] [--results FILE] [--minutes N] [--slowest S] [--tests T,T...]
                           [--header-sources N] [--again] [--list]

Draws a seeded sample of small changes (mutants.py), and for each compiles what it changes, links the tests with it and runs them
until the first failure. The build folder (build/release) must hold the objects of the tests already. Nothing in the source tree is
written. Results go to a file, one JSON line for each mutant, so that a run can be stopped and taken up again: a number that is in the
file is not run again. --again runs the survivors in the file anew, with slower tests or more of them. docs/robustness.md has the
figures and what the survivors mean. First run the tests of the file's own name, then all that were quick unchanged, then the others but
those that took longer than --slowest.

A mutant in X.cpp is compiled into X.cpp. One in X.h is compiled into X.cpp, the test of X (or the first that includes it) and as
many sources as --header-sources says that include it, by name first; elsewhere the old text is used, so that a survivor wants a
second run with more. Left out: lists of fields, which are data (*_fields.h). A mutant that gives the same machine code is no change
("same code"); one whose test neither fails nor ends in time was noticed too ("timeout").
"""
import argparse
import collections
import json
import pathlib
import random
import re
import resource
import shlex
import shutil
import signal
import subprocess
import tempfile
import time

import mutants

root = pathlib.Path(__file__).resolve().parents[2]
header_sources = 3  # as a rule
memory_limit = 4 << 30  # bytes, for a mutant that allocates without end
compile_limit = 300  # s
quick_test = 0.1  # s


class Build:
    """Compile and link commands of a build folder, as it has them itself."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder).resolve()
        database = json.loads((self.folder / "compile_commands.json").read_text())
        self.compile = {e["file"]: shlex.split(e["command"]) for e in database}
        self.links = {}

    def compile_command(self, source, stand_in, output, shadow):
        """Compiles `stand_in` as if it were `source`; headers below `shadow` come before those of the tree."""
        words = self.compile[str(source)]
        words = words[next(i for i, w in enumerate(words) if re.search(r"(g|clang)\+\+|/c\+\+", w)):]
        kept, skip = [words[0], "-I", str(shadow)], False
        for w in words[1:]:
            if skip:
                skip = False
            elif w in ("-o", "-include", "-MF", "-MT", "-MQ"):
                skip = True
            elif w not in ("-c", "-g", "-MD", "-Winvalid-pch", "-fpch-preprocess", str(source)) and not re.match(r"-O\d", w):
                kept.append(w)
        return kept + ["-O1", "-w", "-frandom-seed=0", f"-ffile-prefix-map={shadow}={root}", "-c", str(stand_in), "-o", str(output)]

    def link_command(self, target, objects, replaced, output):
        """Links the test with `objects` before all else; those of `replaced` are left out."""
        if target not in self.links:
            out = subprocess.run(["ninja", "-C", self.folder, "-t", "commands", "-s", f"bin/{target}"], check=True, capture_output=True,
                                 text=True).stdout
            # The line also lists the tests afterwards: only what links is wanted.
            line = next(part for part in out.split("&&") if f"-o bin/{target}" in part)
            self.links[target] = shlex.split(line)
        words = [w for w in self.links[target] if w not in replaced]
        words[words.index("-o") + 1] = str(output)
        first = next(i for i, w in enumerate(words) if w.endswith(".o"))
        return words[:first] + [str(o) for o in objects] + words[first:]

    def object_of(self, source):
        words = self.compile[str(source)]
        return words[words.index("-o") + 1]


class Includes:
    """Who includes whom by name, in geometry/ and its tests."""

    def __init__(self, most=header_sources):
        self.most = most
        self.by_header = collections.defaultdict(list)
        for file in sorted([*root.glob("geometry/*.h"), *root.glob("geometry/*.cpp"), *root.glob("tests/geometry/*_test.cpp")]):
            for header in re.findall(r'#include "geometry/(\w+\.h)"', file.read_text()):
                self.by_header[header].append(file)

    def users(self, header):
        """Sources and tests that include a header, by name first, then by way of other headers."""
        found, seen, waiting = [], {header}, [header]
        while waiting:
            for file in self.by_header[waiting.pop(0)]:
                if file.name in seen:
                    continue
                seen.add(file.name)
                (waiting if file.suffix == ".h" else found).append(file.name if file.suffix == ".h" else file)
        return found

    def sources(self, file):
        """What is compiled anew for a mutant of `file`."""
        if file.suffix == ".cpp":
            return [file]
        users = self.users(file.name)
        own = [f for f in users if f.stem in (file.stem, f"{file.stem}_test")]
        if not any(is_test(f) for f in own):
            own += [f for f in users if is_test(f)][:1]
        others = [f for f in users if f not in own and not is_test(f)]
        return own + others[:self.most]


def is_test(file):
    return file.stem.endswith("_test")


def run(words, seconds, folder):
    """Exit code and output; nothing when it did not end within so much time of the processor, or asleep in 20 times as much."""
    def limit():
        resource.setrlimit(resource.RLIMIT_AS, (memory_limit, memory_limit))
        resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1, int(seconds) + 2))

    try:
        done = subprocess.run([str(w) for w in words], cwd=folder, stdin=subprocess.DEVNULL, capture_output=True, text=True,
                              errors="replace", timeout=20.0 * seconds, preexec_fn=limit)
        return None if done.returncode == -signal.SIGXCPU else done.returncode, done.stdout + done.stderr
    except subprocess.TimeoutExpired:
        return None, ""


def first_failure(output):
    found = re.search(r"^-{50,}\n(.+?)\n-{50,}$", output, re.S | re.M)
    return " ".join(found.group(1).split()) if found else output.strip().splitlines()[-1][:120] if output.strip() else ""


class Tester:
    def __init__(self, build, targets, work, slowest, most_sources=header_sources):
        self.build, self.targets, self.work, self.slowest = build, targets, work, slowest
        self.includes = Includes(most_sources)
        self.seconds = {}

    def time_tests(self, cache):
        """How long each test takes unchanged; they have to pass. Kept beside the results as long as the program is the same."""
        known = json.loads(cache.read_text()) if cache.exists() else {}
        for target in self.targets:
            program = self.build.folder / "bin" / target
            stamp = program.stat().st_mtime
            if known.get(target, {}).get("stamp") != stamp:
                _, names = run([program, "--list-test-names-only"], 60, root)
                code, output = run([program, "-d", "yes"], 3600, root)
                if code != 0:
                    raise SystemExit(f"{target} fails without any mutant: {first_failure(output)}")
                names = {n.strip() for n in names.splitlines()}
                found = re.findall(r"^([\d.]+) s: (.+)$", output, re.M)
                known[target] = {"stamp": stamp, "seconds": {name: float(s) for s, name in found if name in names}}
                cache.write_text(json.dumps(known))
            self.seconds[target] = known[target]["seconds"]

    def rounds(self, target, stem):
        """Words for each run of a test, and how long it may take."""
        took = self.seconds[target]
        quick = [n for n, s in took.items() if s < quick_test]
        others = [n for n, s in took.items() if quick_test <= s <= self.slowest]
        found = []
        if target == "test_geometry" and (root / "tests" / "geometry" / f"{stem}_test.cpp").exists():
            found.append((["-#", f"[#{stem}_test]"], sum(took.values())))
        for number, names in enumerate([quick, others]):
            if names:
                listed = self.work / f"{target}_{number}.txt"
                listed.write_text("".join(n.replace(",", "\\,") + "\n" for n in names))  # else Catch2 2 takes two names
                found.append((["-f", listed], sum(took[n] for n in names)))
        return found

    def compile_all(self, sources, changed, text, prefix):
        """Objects of all sources with `changed` reading `text`; nothing when one does not compile."""
        shadow = self.work / "shadow"
        shutil.rmtree(shadow, ignore_errors=True)
        (shadow / "geometry").mkdir(parents=True)
        (shadow / "geometry" / changed.name).write_text(text)
        objects = []
        for s in sources:
            stand_in = shadow / "geometry" / s.name if s == changed else s
            objects.append(self.work / f"{prefix}_{s.parent.parent.name}_{s.stem}.o")
            code, _ = run(self.build.compile_command(s, stand_in, objects[-1], shadow), compile_limit, self.build.folder)
            if code != 0:
                return None
        return objects

    def judge(self, mutant):
        """(status, by what)"""
        file = root / mutant.file
        text = file.read_text()
        sources = self.includes.sources(file)
        if not sources:
            return "no source", ""
        objects = self.compile_all(sources, file, mutant.apply(text), "mutant")
        if objects is None:
            return "not compiled", ""
        status, by = self.run_tests(mutant, sources, objects)
        if status != "survived":
            return status, by
        same = self.compile_all(sources, file, text, "plain")
        if all(a.read_bytes() == b.read_bytes() for a, b in zip(objects, same)):
            return "same code", ""
        return status, by

    def run_tests(self, mutant, sources, objects):
        replaced = {self.build.object_of(s) for s in sources if is_test(s)}
        for target in self.targets:
            program = self.work / target
            mine = objects if target == "test_geometry" else [o for o, s in zip(objects, sources) if not is_test(s)]
            code, output = run(self.build.link_command(target, mine, replaced, program), compile_limit, self.build.folder)
            if code != 0:
                raise SystemExit(f"{target} does not link: {output[-2000:]}")
            for words, seconds in self.rounds(target, pathlib.Path(mutant.file).stem):
                code, output = run([program, "--abort", *words], 3.0 * seconds + 20.0, root)
                if code is None:
                    return "timeout", target
                if code != 0:
                    return "killed", f"{target}: {first_failure(output)}"
        return "survived", ""


def list_mutants():
    files = sorted([*root.glob("geometry/*.cpp"), *root.glob("geometry/*.h")])
    files = [f for f in files if not f.name.endswith("_fields.h")]
    return [m for f in files for m in mutants.find_mutants(str(f.relative_to(root)), f.read_text())]


def summarise(results):
    counts = collections.Counter(r["status"] for r in results)
    print(", ".join(f"{n} {status}" for status, n in sorted(counts.items())))
    noticed, asked = counts["killed"] + counts["timeout"], counts["killed"] + counts["timeout"] + counts["survived"]
    if asked:
        print(f"{noticed} of {asked} that change the program were noticed: {100.0 * noticed / asked:.1f} %")
    for r in results:
        if r["status"] == "survived":
            print(f"  {r['number']}: {r['file']}:{r['line']} ({r['kind']}) '{r['old']}' -> '{r['new']}': {r['text']}")


def main():
    p = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    p.add_argument("--build", default=root / "build" / "release")
    p.add_argument("--count", type=int, default=300)
    p.add_argument("--seed", type=int, default=20261127)
    p.add_argument("--results", type=pathlib.Path, default=root / "build" / "mutation.jsonl")
    p.add_argument("--minutes", type=float, default=1e9, help="no further mutant is begun after so many")
    p.add_argument("--slowest", type=float, default=8.0, help="s; tests that take longer unchanged are left out")
    p.add_argument("--header-sources", type=int, default=header_sources, help="compiled anew besides for a mutant of a header")
    p.add_argument("--again", action="store_true", help="run the survivors among the results anew")
    p.add_argument("--tests", default="test_geometry,test_validation")
    p.add_argument("--list", action="store_true", help="the sample, without running it")
    a = p.parse_args()
    everything = list_mutants()
    sample = random.Random(a.seed).sample(everything, min(a.count, len(everything)))
    print(f"{len(everything)} places; seed {a.seed}, {len(sample)} of them", flush=True)
    if a.list:
        for n, m in enumerate(sample):
            print(f"{n}: {m.file}:{m.line} ({m.kind}) '{m.old}' -> '{m.new}'")
        return
    done = [json.loads(line) for line in a.results.read_text().splitlines()] if a.results.exists() else []
    if a.again:
        wanted = sorted(r["number"] for r in done if r["status"] == "survived")
    else:
        wanted = [n for n in range(len(sample)) if n not in {r["number"] for r in done}]
    start = time.monotonic()
    a.results.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as work:
        tester = Tester(Build(a.build), a.tests.split(","), pathlib.Path(work), a.slowest, a.header_sources)
        tester.time_tests(a.results.with_suffix(".times"))
        for n in wanted:
            if time.monotonic() - start > 60.0 * a.minutes:
                break
            m, begun = sample[n], time.monotonic()
            status, by = tester.judge(m)
            text = (root / m.file).read_text().splitlines()[m.line - 1].strip()
            done = [r for r in done if r["number"] != n]
            done.append({"number": n, "file": m.file, "line": m.line, "kind": m.kind, "old": m.old, "new": m.new, "status": status,
                         "by": by, "seconds": round(time.monotonic() - begun, 1), "text": text})
            print(f"{n}: {m.file}:{m.line} '{m.old}' -> '{m.new}': {status} {by}"[:200], flush=True)
            a.results.write_text("".join(json.dumps(r) + "\n" for r in done))
    summarise(sorted(done, key=lambda r: r["number"]))


if __name__ == "__main__":
    main()
