#!/usr/bin/env python3
"""Writes cli/link_order.ld anew: which functions of the program stand side by side, because `fit` runs them.

  tests/bench/link_order.py [BUILD_FOLDER [SETUP...]]     (build/release, every built-in set-up)

Runs `fit` on each set-up under valgrind's callgrind (Debian: valgrind), finds the sections those functions are in
(objdump) and lists them, what most set-ups need first. A line whose section is gone is without effect, a function that is
missing costs time only: write the file anew when the code of `fit` has changed much.
"""
import collections
import pathlib
import re
import subprocess
import sys
import tempfile

root = pathlib.Path(__file__).resolve().parents[2]
build = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else root / "build" / "release")
program = (build / "bin" / "hitchwright").resolve()
folders = ["cli", "presets", "report", "geometry", "third_party"]

head = """/* Written by tests/bench/link_order.py: what `fit` runs stands side by side. The program is paged in by pieces of 64 KiB,
   and a third of them is not needed then. Added to the linker's own script; a line that names nothing is ignored. */
SECTIONS
{
  .text.first :
  {
"""
tail = """  }
}
INSERT BEFORE .text;
"""


def output(*words):
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout


def executed_functions(setup):
    """Mangled names of the program's functions that `fit` runs."""
    names, objects, ours = set(), {}, False
    with tempfile.NamedTemporaryFile() as out:
        subprocess.run(["valgrind", "-q", "--tool=callgrind", "--demangle=no", f"--callgrind-out-file={out.name}", program, "fit", setup],
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        functions = {}
        for line in open(out.name):
            found = re.match(r"(c?ob|c?fn)=\((\d+)\)(?: (.*))?$", line)
            if not found:
                continue
            kind, number, text = found.groups()
            table = objects if kind.endswith("ob") else functions
            if text:
                table[number] = text.split("'")[0]
            if kind == "ob":
                ours = pathlib.Path(objects[number]).name == program.name
            elif kind == "fn" and ours:
                names.add(functions[number])
    return names


def list_sections(archive):
    """(member, section) of every function in an archive, by its name."""
    places, member = {}, ""
    for line in output("objdump", "-t", str(archive)).splitlines():
        found = re.match(r"(\S+):\s+file format", line)
        if found:
            member = found.group(1)
        found = re.match(r"[0-9a-f]+ .{7} (\.text\S*)\t[0-9a-f]+ (?:\.hidden )?(\S+)$", line)
        if found and not found.group(2).startswith(".text"):
            places.setdefault(found.group(2), []).append((member, found.group(1)))
    return places


def write_order(lines):
    """Writes the file and links the program with it."""
    (root / "cli" / "link_order.ld").write_text(head + "".join(lines) + tail)
    subprocess.run(["cmake", "--build", str(build), "--target", "hitchwright"], check=True, stdout=subprocess.DEVNULL)


def main():
    write_order([])  # valgrind looks for functions in one section only
    setups = sys.argv[2:] or re.findall(r"^  (\S+)", output(str(program), "presets", "list", "setup"), re.M)
    names = collections.Counter(name for setup in setups for name in executed_functions(setup))
    archives = [next((build / folder).glob("lib*.a"), None) for folder in folders]
    lines = collections.Counter()
    for archive in [a for a in archives if a] + [pathlib.Path(output("g++", "-print-file-name=libstdc++.a").strip())]:
        places = list_sections(archive)
        for name in sorted(names.keys() & places.keys()):
            for member, section in places[name]:
                # The linker keeps one of the many copies of a section that is named after its function.
                where = f"*{archive.name}:{member}" if section == ".text" else "*"
                line = f"    {where}({section})\n"
                lines[line] = max(lines[line], names[name])
    often_first = [line for line, _ in lines.most_common()]
    write_order(often_first)
    print(f"{len(names)} functions of {len(setups)} set-ups, {len(lines)} sections: cli/link_order.ld")


main()
