"""What may go wrong in a line of code, one small change at a time."""
import collections
import re

# `rule` names the change; the text from `start` to `end` becomes `new`.
Mutation = collections.namedtuple("Mutation", "rule start end new")

# Each pattern's first group is what is replaced; several replacements make several mutants.
SWAPS = [
    ("shift a bound", r" (<) ", ["<="]),
    ("shift a bound", r" (<=) ", ["<"]),
    ("shift a bound", r" (>) ", [">="]),
    ("shift a bound", r" (>=) ", [">"]),
    ("turn a comparison", r" (<|<=) ", [">"]),
    ("turn a comparison", r" (>|>=) ", ["<"]),
    ("negate", r" (==) ", ["!="]),
    ("negate", r" (!=) ", ["=="]),
    ("negate", r"[\s(](!)[\w*(]", [""]),
    ("swap and for or", r" (&&)\s", ["||"]),
    ("swap and for or", r" (\|\|)\s", ["&&"]),
    ("swap plus for minus", r" (\+) ", ["-"]),
    ("swap plus for minus", r" (-) ", ["+"]),
    ("swap true for false", r"\b(true)\b", ["false"]),
    ("swap true for false", r"\b(false)\b", ["true"]),
    ("swap an outcome", r"Finding::(No)\b", ["Yes", "Missing"]),
    ("swap an outcome", r"Finding::(Yes)\b", ["No"]),
    ("swap an outcome", r"Finding::(Missing)\b", ["No"]),
    ("swap an outcome", r"DailyTest::(Failed)\b", ["Passed", "Missing"]),
    ("swap an outcome", r"DailyTest::(Passed)\b", ["Failed"]),
    ("swap an outcome", r"DailyTest::(Missing)\b", ["Passed"]),
    ("swap an outcome", r"Outcome::(Clear)\b", ["Hold"]),
    ("swap an outcome", r"BiologicalStanding::(Negative)\b", ["Invalid"]),
    ("swap an outcome", r"BiologicalStanding::(Invalid)\b", ["Negative"]),
    ("swap a state", r"LoadState::(Released)\b", ["Finished"]),
    ("swap a state", r"LoadState::(Running|Finished|Quarantined|Aborted|Failed|Recalled|Revoked)\b", ["Released"]),
    ("swap a state", r"PackageState::(Loaded)\b", ["Labelled"]),
    ("swap a state", r"PackageState::(Void|Labelled|Opened|Withdrawn)\b", ["Loaded"]),
    ("swap what was seen", r"Seen::(PackageLabel)\b", ["TypedId"]),
    ("swap what was seen", r"Seen::(TypedId|Nothing|LaterForm|ChartCopy|Matched)\b", ["PackageLabel"]),
    ("swap any for none", r"std::(any_of)\b", ["none_of"]),
    ("swap any for none", r"std::(none_of)\b", ["any_of"]),
    ("swap least for most", r"std::(max)\b", ["min"]),
    ("swap least for most", r"std::(min)\b", ["max"]),
    ("another default", r"value_or\((false)\)", ["true"]),
]
# Comments, preprocessor lines, quoted texts and letters: nothing in them is code.
HIDDEN = re.compile(r"//[^\n]*|^#[^\n]*|\"(?:[^\"\\\n]|\\.)*\"|'(?:[^'\\\n]|\\.)'", re.M)
STATEMENT = re.compile(r"^ {2,}(?!return\b|if\b|const\b|constexpr\b|auto\b|case\b|default\b|using\b|struct\b|explicit\b)"
                       r"[a-zA-Z_][^\n{}]*;$", re.M)
DECLARATION = re.compile(r"^ +(?:[\w:]+(?:<[^\n]*>)?&?) \w+(?: = [^\n]*)?(?:\{[^\n]*\})?;$")
LEAVING = re.compile(r"^ {2,}if \([^\n]*\) (?:return|continue)\b[^\n]*;$", re.M)
CONDITION = re.compile(r"\bif \((?!const )((?:[^()\n;]|\((?:[^()]|\([^()]*\))*\))+)\) ")
FOUND = re.compile(r"\byes_if\(((?:[^()]|\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\))+)\)")
NUMBER = re.compile(r"(?<![\w.\"])(\d+)(?![\w.\"])")
ROW = re.compile(r"^    \{(?:[^{}]|\{(?:[^{}]|\{[^{}]*\})*\})*\},$", re.M)


def blanked(text):
    """The same length, its comments, quoted texts and preprocessor lines blank."""
    return HIDDEN.sub(lambda found: re.sub(r"[^\n]", "`", found.group()), text)


def mutations_of(text):
    """All of them, in the order of the text."""
    code = blanked(text)
    made = []
    for rule, pattern, replacements in SWAPS:
        for found in re.finditer(pattern, code):
            made += [Mutation(rule, found.start(1), found.end(1), new) for new in replacements]
    for rule, pattern in (("negate", CONDITION), ("negate", FOUND)):
        made += [Mutation(rule, found.start(1), found.end(1), f"!({text[found.start(1):found.end(1)]})")
                 for found in pattern.finditer(code)]
    for found in NUMBER.finditer(code):
        number = int(found.group(1))
        made += [Mutation("shift a bound", found.start(), found.end(), str(new))
                 for new in (number + 1, number - 1) if new >= 0]
    made += [Mutation("drop a statement", found.start(), found.end(), "") for found in STATEMENT.finditer(code)
             if not DECLARATION.match(found.group())]
    made += [Mutation("drop an early leaving", found.start(), found.end(), "") for found in LEAVING.finditer(code)]
    made += [Mutation("drop a row", found.start(), found.end(), "") for found in ROW.finditer(code)]
    for hidden in HIDDEN.finditer(text):
        if hidden.group().startswith('"') and len(hidden.group()) > 2:
            made.append(Mutation("another text", hidden.start(), hidden.end(), '"?"'))
    return sorted(set(made), key=lambda each: (each.start, each.end, each.rule, each.new))


def applied(text, mutation):
    return text[:mutation.start] + mutation.new + text[mutation.end:]


def line_of(text, mutation):
    """Number of its first line, and that line without its indentation."""
    number = text.count("\n", 0, mutation.start) + 1
    return number, " ".join(text.splitlines()[number - 1].split())
