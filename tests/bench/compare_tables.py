"""Tables of docs/benchmarks.md out of what the rounds measured. Each stands between a pair of marks in the document,
`<!-- table NAME -->` and `<!-- end -->`; a part that was not run keeps the table it had."""
import math
import platform
import re
import statistics
import subprocess

from compare_targets import TARGETS

SOLVERS = {
    "closed_form": "closed form, one by one", "batch": "closed form, columns",
    "kernel_fast_math": "kernel, -ffast-math", "batch_fast_math": "columns, -ffast-math",
    "numpy_closed_form": "numpy, closed form", "numpy_in_plane": "numpy, in a plane", "own_newton": "own Newton loop", "ceres_tiny_solver": "Ceres TinySolver",
    "eigen_hybrid_derivatives": "Eigen hybrid, derivatives", "eigen_hybrid_differences": "Eigen hybrid, differences",
    "eigen_hybrid_ball_and_pitch": "Eigen hybrid, ball + pitch", "ceres": "Ceres Solver",
    "simbody_projection": "Simbody projection", "simbody_assembler": "Simbody Assembler",
    "scipy_fsolve_angles": "SciPy fsolve", "scipy_fsolve_ball_and_pitch": "SciPy fsolve, ball + pitch",
}


class Rounds:
    """Medians of one part. Names without the words Google Benchmark adds for the clock."""

    def __init__(self, rounds):
        self.rounds = [{re.sub(r"(/process_time)?/real_time$", "", name): f for name, f in r.items()} for r in rounds]

    def names(self):
        return [n for n in self.rounds[0] if all(n in r for r in self.rounds)] if self.rounds else []

    def median(self, name, key="ns"):
        return statistics.median(r[name][key] for r in self.rounds)

    def ratio(self, name, other, key="ns"):
        """How many times as long `name` takes, per unit of both."""
        return statistics.median(r[name][key] / r[other][key] for r in self.rounds)


def format_time(nanoseconds):
    for unit, size in (("s", 1e9), ("ms", 1e6), ("us", 1e3)):
        if nanoseconds >= size:
            return f"{format_number(nanoseconds / size)} {unit}"
    return f"{format_number(nanoseconds)} ns"


def format_number(x):
    """Three figures."""
    if x == 0 or not math.isfinite(x):
        return f"{x:g}"
    digits = 2 - math.floor(math.log10(abs(x)))
    return f"{round(x, digits):.{max(0, digits)}f}"


def format_error(x):
    return "0" if x == 0 else f"{x:.0e}" if x < 0.01 else format_number(x)


def make_table(head, rows):
    """Markdown whose columns also stand in line in a terminal; the first one to the left, the others to the right."""
    widths = [max(len(str(line[i])) for line in [head, *rows]) for i in range(len(head))]

    def line(cells):
        parts = [str(c).ljust(w) if i == 0 else str(c).rjust(w) for i, (c, w) in enumerate(zip(cells, widths))]
        return "| " + " | ".join(parts) + " |"

    rule = "|" + "|".join("-" * (w + 2) if i == 0 else "-" * (w + 1) + ":" for i, w in enumerate(widths)) + "|"
    return "\n".join([line(head), rule, *map(line, rows)])


def write_pose(t):
    rows = []
    columns = ("closed_form", "batch", "batch_fast_math", "numpy_closed_form", "numpy_in_plane")
    for path, names in (("travel", SOLVERS), ("many", columns), ("askew", columns)):
        for name in names:
            full = f"{path}/{name}"
            if full not in t.names():
                continue
            title = SOLVERS[name] + {"travel": "", "many": ", 4096", "askew": ", 4096 askew"}[path]
            ratios = [format_number(t.ratio(full, other)) for other in ("travel/closed_form", "many/batch")]
            errors = [format_error(t.median(full, key)) for key in ("mm", "deg")]
            rows.append((t.median(full), [title, format_time(t.median(full)), *ratios, *errors]))
    rows.sort(key=lambda row: row[0])
    return make_table(["solver", "a pose", "/ one", "/ columns", "mm", "deg"], [cells for _, cells in rows])


def write_silent(t):
    rows = []
    for name in SOLVERS:
        full = f"from_level/{name}"
        if full in t.names():
            rows.append([SOLVERS[name], int(t.median(full, "silent")), int(t.median(full, "given_up")),
                         format_error(t.median(full, "mm")), format_error(t.median(full, "deg"))])
    return make_table(["solver", "silently wrong", "given up", "mm", "deg"], rows)


def write_product(t):
    rows = []
    for name in sorted(t.names()):
        counters = ", ".join(f"{k} {format_time(v * 1e9) if k.startswith('per ') else format_number(v)}"
                             for k, v in t.rounds[-1][name].items() if k not in ("ns", "wall"))
        rows.append([name, format_time(t.median(name)), format_time(t.median(name, "wall")), counters])
    return make_table(["benchmark", "processor", "on the wall", "counters"], rows)


def write_growth(t):
    rows = []
    for kind, size in sorted((kind, int(size)) for kind, size in (name.split("/") for name in t.names())):
        name = f"{kind}/{size}"
        each = format_time(t.median(name, "each") * 1e9)
        rows.append([kind.removeprefix("grow_"), size, format_time(t.median(name)), each])
    return make_table(["what grows", "number", "time", "each"], rows)


def write_process(t):
    rows = []
    for name in t.names():
        times = [format_time(t.median(name, key)) for key in ("ns", "wall")]
        rows.append([name, *times, format_number(t.ratio(name, "trivial_dynamic", "wall"))])
    return make_table(["program", "processor", "on the wall", "/ trivial"], rows)


def write_screen(t):
    demos = sorted(name.removeprefix("edit/") for name in t.names() if name.startswith("edit/"))
    shown = {"rest": "screen_frame/rest", "lift": "screen_frame/lift", "edit": "screen_frame/edit", "anew": "edit", "first": "screen_frame/first"}
    on_wall = ("lift", "edit", "anew")
    rows = [[d, *(format_time(t.median(f"{kind}/{d}")) for kind in shown.values()),
             *(format_time(t.median(f"{shown[what]}/{d}", "wall")) for what in on_wall)] for d in demos]
    return make_table(["demo", *shown, *(f"{what}, wall" for what in on_wall)], rows)


def write_targets(parts):
    rows = []
    for target in TARGETS:
        value = target.find(parts)
        words = ">=" if target.at_least else "<="
        verdict = "not measured"
        if value is not None:
            reached = value >= target.limit if target.at_least else value <= target.limit
            verdict = "reached" if reached else "not reached"
        rows.append([target.what, f"{words} {target.limit:g}{target.unit}",
                     "" if value is None else format_number(value) + target.unit, verdict])
    return make_table(["target", "wanted", "measured", ""], rows)


def find_machine(root):
    """Processor, registers, compiler: what a figure is worth nothing without."""
    try:
        lines = open("/proc/cpuinfo", encoding="ascii").read().splitlines()
    except OSError:
        lines = []
    facts = {key.strip(): value.strip() for key, _, value in (line.partition(":") for line in lines)}
    words = facts.get("flags", "").split()
    wide = "AVX-512" if "avx512f" in words else "AVX2" if "avx2" in words else "SSE2"
    cache = (root / "build/release/CMakeCache.txt").read_text(encoding="utf-8", errors="replace")
    compiler = re.search(r"CMAKE_CXX_COMPILER:\w+=(.*)", cache).group(1)
    version = subprocess.run([compiler, "--version"], capture_output=True, text=True, check=False).stdout.split("\n")[0]
    cpu = f"{facts.get('model name', platform.machine())}, family {facts.get('cpu family', '?')}, {wide}"
    return f"{cpu}; {version}; build type Release (-O3, no -march)"


WRITERS = {
    "pose": (("pose", write_pose), ("silent", write_silent)),
    "product": (("product", write_product),),
    "growth": (("growth", write_growth),),
    "process": (("process", write_process),),
    "screen": (("screen", write_screen),),
}


def write_tables(document, rounds, machine):
    parts = {part: Rounds(r) for part, r in rounds.items()}
    tables = {name: write(parts[part]) for part in parts for name, write in WRITERS[part]}
    if set(parts) == set(WRITERS):
        tables["targets"] = write_targets(parts)
    tables["machine"] = f"{machine}; {len(next(iter(rounds.values())))} rounds of {', '.join(parts)}."
    text = document.read_text(encoding="ascii")
    for name, table in tables.items():
        print(f"\n{name}\n{table}")
        pattern = rf"(<!-- table {name} -->\n).*?(<!-- end -->)"
        text, count = re.subn(pattern, lambda m: f"{m[1]}\n{table}\n\n{m[2]}", text, flags=re.S)
        if count != 1:
            raise SystemExit(f"compare: {document} has no place for the table {name}")
    document.write_text(text, encoding="ascii")
