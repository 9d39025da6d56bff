"""Makes every comparison and every minus of some source files one that can be turned around by its number.

    mutate.py ROOT LIST FILE...

`a < b` becomes `(runnel_mutants::turned(7) ? (a) >= (b) : (a) < (b))`, and `a - b` of doubles or quantities a sum.
Comparisons in the head of a `for` loop and in constants stay as they are. The files, named from ROOT, are changed in
place; what each number stands for goes to LIST as JSON. Needs python3-clang-14 and libclang-14-dev of Debian.
"""
import json
import sys

from clang.cindex import Config, CursorKind, Index

OTHER = {"<": ">=", "<=": ">", ">": "<=", ">=": "<", "==": "!=", "!=": "=="}
OPERATORS = set(OTHER) | {"-", "+", "*", "/", "&&", "||", "=", "-=", "+="}
Config.set_library_file("/usr/lib/x86_64-linux-gnu/libclang-14.so.1")


class File:
    """The changes of one source file."""

    def __init__(self, root, name, index, found):
        self.name, self.path, self.found, self.edits = name, root + "/" + name, found, []
        with open(self.path, "rb") as source:
            self.text = source.read()
        arguments = ["-std=c++20", "-I" + root + "/lib", "-I/usr/include/eigen3",
                     "-I/usr/lib/llvm-14/lib/clang/14.0.6/include"]
        self.walk(index.parse(self.path, args=arguments).cursor, False)
        with open(self.path, "wb") as source:
            source.write(self.rendered(0, len(self.text)))

    def operator_of(self, cursor, kids):
        """The operator's token and where it stands, of an operator of two sides that are built in."""
        for token in cursor.get_tokens():
            start, end = token.extent.start.offset, token.extent.end.offset
            if start >= kids[0].extent.end.offset and end <= kids[1].extent.start.offset:
                if token.spelling in OPERATORS:
                    return token.spelling, start, end
        return None

    def overloaded(self, cursor, kids):
        """The same of an operator of a class, whose own token is one of the children. Quantities are compared by one
        operator that stands for all four."""
        operator = cursor.spelling[len("operator"):] if cursor.spelling.startswith("operator") else ""
        if operator not in OTHER and operator not in ("<=>", "-") or len(kids) != 3:
            return None
        for kid in kids:
            start, end = kid.extent.start.offset, kid.extent.end.offset
            sign = self.text[start:end].decode()
            if (sign == operator or operator == "<=>" and sign in OTHER) and end < cursor.extent.end.offset:
                return sign, start, end
        return None

    def note(self, cursor):
        kids = list(cursor.get_children())
        if cursor.kind == CursorKind.BINARY_OPERATOR and len(kids) == 2:
            operator = self.operator_of(cursor, kids)
        elif cursor.kind == CursorKind.CALL_EXPR:
            operator = self.overloaded(cursor, kids)
        else:
            return
        if not operator:
            return
        sign, start, end = operator
        of_figures = cursor.type.spelling in ("double", "const double") or cursor.type.spelling.startswith("runnel::")
        if sign not in OTHER and not (sign == "-" and of_figures):
            return
        number = len(self.found) + 1
        first, last = cursor.extent.start.offset, cursor.extent.end.offset
        self.edits.append((first, start, end, last, number, sign, OTHER.get(sign, "+")))
        shown = " ".join(self.text[first:last].decode().split())
        self.found.append({"number": number, "file": self.name, "line": cursor.location.line, "text": shown})

    def walk(self, cursor, constant):
        if cursor.location.file and cursor.location.file.name != self.path:
            return
        if cursor.kind == CursorKind.FOR_STMT:
            self.walk(list(cursor.get_children())[-1], constant)
            return
        if cursor.kind in (CursorKind.VAR_DECL, CursorKind.FUNCTION_DECL):
            constant = constant or "constexpr" in [t.spelling for _, t in zip(range(6), cursor.get_tokens())]
        if not constant:
            self.note(cursor)
        for kid in cursor.get_children():
            self.walk(kid, constant)

    def rendered(self, first, last):
        """The text between two offsets with its changes; one may stand within a side of another."""
        out, here = b"", first
        within = sorted((e for e in self.edits if e[0] >= first and e[3] <= last), key=lambda e: (e[0], -e[3]))
        for edit in within:
            if edit[0] < here or edit not in self.edits:
                continue
            self.edits.remove(edit)
            left, right = self.rendered(edit[0], edit[1]).decode(), self.rendered(edit[2], edit[3]).decode()
            turned = "(runnel_mutants::turned(%d) ? (%s) %s (%s) : (%s) %s (%s))" % (
                edit[4], left, edit[6], right, left, edit[5], right)
            out += self.text[here:edit[0]] + turned.encode()
            here = edit[3]
        return out + self.text[here:last]


def main():
    root, list_file, names = sys.argv[1], sys.argv[2], sys.argv[3:]
    index, found = Index.create(), []
    for name in names:
        File(root, name, index, found)
    with open(list_file, "w") as out:
        json.dump(found, out, indent=1)
    print(len(found), "comparisons and minuses in", len(names), "files")


main()
