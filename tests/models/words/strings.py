"""What a source file can put before a reader's eyes."""

from __future__ import annotations

import ast
import re

UNSEEN = re.compile(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|<[^>]*>", re.DOTALL)
"""Of a template: comments, statements, what is filled in, tags."""


def strings_of(source: str) -> list[str]:
    """All strings of a Python file but docstrings; of an f-string its text with a word for what is filled in."""
    tree = ast.parse(source)
    alone = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    joined = [node for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)]
    within = {id(part) for node in joined for part in ast.walk(node) if isinstance(part, ast.Constant)}
    whole = ["".join(p.value if isinstance(p, ast.Constant) else "something" for p in node.values) for node in joined]
    return whole + [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and not {id(node)} & (alone | within)
    ]


def text_of(template: str) -> str:
    """What a template says of its own."""
    return UNSEEN.sub(" ", template)
