"""What the speed of the program is held to: ratios within one run on one machine, and counts."""
import pathlib
import statistics
from typing import Callable, NamedTuple, Optional


class Target(NamedTuple):
    what: str
    limit: float
    at_least: bool
    unit: str
    find: Callable[[dict], Optional[float]]


def ratio(part, name, other, key="ns", pick=max):
    """How many times as long `name` takes as `other`; `name` may be a pattern ending in *, of which `pick` says which counts."""
    def find(parts):
        t = parts[part]
        values = [t.ratio(n, other, key) for n in t.names() if matches(n, name)] if other in t.names() else []
        return pick(values) if values else None
    return find


def figure(part, name, key, scale=1.0, pick=max):
    def find(parts):
        t = parts[part]
        values = [t.median(n, key) * scale for n in t.names() if matches(n, name) and key in t.rounds[0][n]]
        return pick(values) if values else None
    return find


def matches(name, pattern):
    return name.startswith(pattern[:-1]) if pattern.endswith("*") else name == pattern


def has_wide_registers():
    """Whether the processor has AVX-512: columns then have twice the width."""
    try:
        return "avx512f" in pathlib.Path("/proc/cpuinfo").read_text(encoding="utf-8").split()
    except OSError:
        return False


MS, US = 1e-6, 1e-3
WIDE = has_wide_registers()
REGISTERS = "AVX-512" if WIDE else "AVX2"

TARGETS = [
    Target("one pose against warm Ceres", 100, True, " x", ratio("pose", "travel/ceres", "travel/closed_form")),
    Target("one pose against Simbody's projection", 400, True, " x",
           ratio("pose", "travel/simbody_projection", "travel/closed_form")),
    Target(f"columns against one pose ({REGISTERS})", 15 if WIDE else 7, True, " x",
           ratio("pose", "many/closed_form", "many/batch")),
    Target(f"columns against one pose, askew ({REGISTERS})", 15 if WIDE else 7, True, " x",
           ratio("pose", "askew/closed_form", "askew/batch")),
    Target(f"columns against warm Ceres ({REGISTERS})", 1800 if WIDE else 840, True, " x",
           ratio("pose", "travel/ceres", "many/batch")),
    Target(f"columns against numpy as one writes it ({REGISTERS})", 12 if WIDE else 5.6, True, " x",
           ratio("pose", "many/numpy_closed_form", "many/batch")),
    Target(f"columns against numpy, both in a plane ({REGISTERS})", 12 if WIDE else 5.6, True, " x",
           ratio("pose", "many/numpy_in_plane", "many/batch")),
    Target(f"columns against numpy, both askew ({REGISTERS})", 12 if WIDE else 5.6, True, " x",
           ratio("pose", "askew/numpy_closed_form", "askew/batch")),
    Target("ten holes: evaluations", 60, False, "", figure("product", "ten_holes_numbers/plain", "evaluations")),
    Target("ten holes: bounded extremes", 0.25, False, " ms", figure("product", "ten_holes_numbers/plain", "ns", MS)),
    Target("drawn: evaluations, worst demo", 400, False, "", figure("product", "extremes_drawn/utility*", "evaluations")),
    Target("drawn: bounded extremes, worst demo", 0.3, False, " ms", figure("product", "extremes_drawn/utility*", "ns", MS)),
    Target("drawn: the same, random machines", 0.3, False, " ms", figure("product", "extremes_drawn/random_plain", "ns", MS)),
    Target("Monte Carlo against pose by pose", 15, True, " x",
           ratio("product", "monte_carlo_naive", "monte_carlo/threads:1")),
    Target("Monte Carlo, second thread", 1.8, True, " x",
           ratio("product", "monte_carlo/threads:1", "monte_carlo/threads:2", "wall")),
    Target("fit against a trivial program, middle demo", 3, False, " x",
           ratio("process", "fit/*", "trivial_dynamic", "wall", statistics.median)),
    Target("fit against a trivial program, worst demo", 3, False, " x", ratio("process", "fit/*", "trivial_dynamic", "wall")),
    Target("viewer's frame with an edit, middle demo", 8, False, " ms",
           figure("screen", "screen_frame/edit/*", "wall", MS, statistics.median)),
    Target("viewer's frame with an edit, worst demo", 8, False, " ms", figure("screen", "screen_frame/edit/*", "wall", MS)),
    Target("viewer's frame at rest, worst demo", 8, False, " ms", figure("screen", "screen_frame/rest/*", "wall", MS)),
]
