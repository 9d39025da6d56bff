"""Turns the rules of the verdict around, one comparison or minus at a time, and sees whether the table notices.

    run.py COPY

COPY is a clean checkout that may be changed and built in (`git worktree add COPY`). Rows of the table that never ask
for a comparison are not run for it. What survives both the table and the other tests of the verdict is printed,
unless `alike.txt` says why it makes no difference; exit 1 if anything is left.
"""
import glob
import json
import os
import subprocess
import sys

# Words, lists of codes and what only prints or tries have no rules.
NO_RULES = ("codes", "words", "sentence", "acts.cpp", "draft", "fill_watch", "fill_verdict", "fill_beside",
            "fill_answer")
PATIENCE_S = 150


def built(copy):
    here = os.path.dirname(os.path.abspath(__file__))
    names = sorted(os.path.relpath(f, copy) for f in glob.glob(copy + "/lib/runnel/verdict/*.cpp"))
    names = [n for n in names if not any(part in n for part in NO_RULES)]
    listed = copy + "/build-mutants.json"
    subprocess.run(["/usr/bin/python3", here + "/mutate.py", copy, listed] + names, check=True)
    flags = "-w -DRUNNEL_MUTANTS -include " + here + "/switch.h"
    subprocess.run(["cmake", "-S", copy, "-B", copy + "/build-mutants", "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release",
                    "-DRUNNEL_UNITY=ON", "-DRUNNEL_WERROR=OFF", "-DCMAKE_CXX_FLAGS=" + flags], check=True)
    subprocess.run(["ninja", "-C", copy + "/build-mutants", "verdict_test"], check=True)
    with open(listed) as found:
        return copy + "/build-mutants/tests/verdict_test", json.load(found)


def passes(test, which, **environment):
    """Whether tests pass; one that takes too long does not."""
    try:
        run = subprocess.run([test, "-a"] + which, env=dict(os.environ, **environment), capture_output=True,
                             timeout=PATIENCE_S)
        return run.returncode == 0
    except subprocess.TimeoutExpired:
        return False


def reached(test, log):
    """Which rows of the table ask for which number, the quick rows first."""
    if not passes(test, ["rows of the table by number"], RUNNEL_MUTANT_LOG=log):
        sys.exit("The table does not pass as it is.")
    with open(log) as lines:
        rows = sorted((float(words[1]), words[0], words[2:]) for words in (line.split() for line in lines))
    by_number = {}
    for _, row, numbers in rows:
        for number in numbers:
            by_number.setdefault(int(number), []).append(row)
    return by_number


def noticed(test, number, rows):
    for some in (rows[:12], rows[12:60], rows[60:]):
        chosen = {"RUNNEL_MUTANT": str(number), "RUNNEL_ROWS": " ".join(some)}
        if some and not passes(test, ["rows of the table by number"], **chosen):
            return True
    return not passes(test, ["~[many]", "~every model of the table*"], RUNNEL_MUTANT=str(number))


def main():
    test, found = built(os.path.abspath(sys.argv[1]))
    with open(os.path.dirname(os.path.abspath(__file__)) + "/alike.txt") as lines:
        alike = {line.rstrip("\n") for line in lines if line.strip() and not line.startswith("#")}
    rows = reached(test, test + ".reached")
    left = 0
    for one in found:
        name = one["file"].split("/")[-1] + ": " + one["text"]
        if name in alike or noticed(test, one["number"], rows.get(one["number"], [])):
            continue
        left += 1
        print("%s:%d: nobody notices if this is turned around: %s" % (one["file"], one["line"], one["text"]))
    print(len(found), "turned around,", left, "not noticed,", len(alike), "known to make no difference")
    sys.exit(1 if left else 0)


if __name__ == "__main__":
    main()
