"""Where a source can be mutated, and into what: one small change of sign, comparison, limit or branch at a time.

Only code counts: comments, texts, preprocessor lines, static_assert, template heads and members' first values are skipped. The house writes spaces on both
sides of a binary operator and none inside template brackets, so that an operator is known by its spaces.
"""
import dataclasses
import re


@dataclasses.dataclass(frozen=True)
class Mutant:
    """Text `old` at `offset` of `file` becomes `new`."""
    file: str
    offset: int
    line: int
    kind: str
    old: str
    new: str

    def apply(self, text):
        assert text[self.offset:].startswith(self.old)
        return text[:self.offset] + self.new + text[self.offset + len(self.old):]


def blank(match):
    return re.sub(r"[^\n]", " ", match.group(0))


SKIPPED = re.compile(
    r"//[^\n]*|/\*.*?\*/"                                   # comments
    r"|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])'"           # texts and characters
    r"|^[ \t]*#[^\n]*|static_assert\([^;]*;|\btemplate <[^\n]*?>(?=\s*\n)|\boperator[^\s\w(]+", re.S | re.M)
# Members' first values in headers: nearly all are set before anybody reads them.
FIRST_VALUE = re.compile(r"^    (?:double|int|bool|std::size_t) (?:\w+(?: = (?:[\d.]+|true|false))?(?:, )?)+;", re.M)

SWAPPED = {
    "arithmetic": (r"(?<= )(%s)(?= )", {"+": "-", "-": "+", "*": "/", "/": "*", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*="}),
    "comparison": (r"(?<= )(%s)(?= )", {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "=="}),
    "direction": (r"(?<= )(%s)(?= )", {"<": ">", "<=": ">=", ">": "<", ">=": "<="}),
    "logic": (r"(?<= )(%s)(?= )", {"&&": "||", "||": "&&"}),
    "extreme": (r"(?<=\bstd::)(%s)(?=\()", {"min": "max", "max": "min", "min_element": "max_element", "max_element": "min_element",
                                           "floor": "ceil", "ceil": "floor"}),
    "trigonometry": (r"\b(%s)(?=\()", {"sin": "cos", "cos": "sin", "asin": "acos", "acos": "asin"}),
    "end": (r"(?<=\.)(%s)\b(?!\()", {"low": "high", "high": "low", "lo": "hi", "hi": "lo", "least": "greatest", "greatest": "least",
                                    "shortest": "longest", "longest": "shortest"}),
    "truth": (r"\b(%s)\b", {"true": "false", "false": "true"}),
}
SIGN = re.compile(r"(?<=[(\[{,=?:] )-(?=[\w(])|(?<=[(\[{])-(?=[\w(])|(?<=return )-(?=[\w(])")
NOT = re.compile(r"(?<=[( ])!(?=[\w(])")
EARLY = re.compile(r"\bif \((?=[^\n;]*\) (?:return|continue|break)\b)")
NUMBER = re.compile(r"(?<![\w.])(\d+\.\d*(?:e[+-]?\d+)?|\d+e[+-]?\d+|\d+)(?![\w.])")


def change_number(text):
    """A limit moved: 0 to 1, a count by one, a tolerance a thousandfold, any other number doubled."""
    if "e-" in text:
        return f"1e3 * {text}"
    if "." in text or "e" in text:
        return "1.0" if float(text) == 0.0 else f"{2.0 * float(text)!r}"
    return str(int(text) + 1)


def find_mutants(file, text):
    """All mutants of a source, in order of place."""
    code = SKIPPED.sub(blank, text)
    if file.endswith(".h"):
        code = FIRST_VALUE.sub(blank, code)
    found = []

    def add(kind, offset, old, new):
        found.append(Mutant(file, offset, text.count("\n", 0, offset) + 1, kind, old, new))

    for kind, (pattern, swaps) in SWAPPED.items():
        words = "|".join(re.escape(w) for w in sorted(swaps, key=len, reverse=True))
        for m in re.finditer(pattern % words, code):
            add(kind, m.start(1), m.group(1), swaps[m.group(1)])
    for m in SIGN.finditer(code):
        add("sign", m.start(), "-", "")
    for m in NOT.finditer(code):
        add("not", m.start(), "!", "")
    for m in EARLY.finditer(code):
        add("early return", m.start(), "if (", "if (true ? false : ")  # binds less than an || in the condition
    for m in NUMBER.finditer(code):
        # Array sizes, template arguments, bit positions and the like seldom compile, and say nothing when they do.
        if code[m.start() - 1] not in "<[":
            add("limit", m.start(), m.group(1), change_number(m.group(1)))
    return sorted(found, key=lambda m: (m.offset, m.kind))
