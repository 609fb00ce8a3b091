"""Write the pages made from the code: map, commands, validation, reference of the job files, and JSON Schemas.

With `--check`, write nothing and fail if a page on disk is not what the code says.
"""

from __future__ import annotations

import ast
import json
import os
import sys
from pathlib import Path

from nookwright.cli.main import commands_of, parser
from nookwright.files.fields import FILE_KINDS
from nookwright.files.schema import files_reference, json_schema

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests"))  # the published figures belong to the tests

from published.page import validation_page  # noqa: E402

SOURCE = ROOT / "src"
MADE = "<!-- Made by `make docs` from the code; change the code, not this page. -->"


def generated_pages() -> dict[str, str]:
    """Return every generated page by its path from the repository's root."""
    pages = {"docs/map.md": map_of_the_code(), "docs/reference/files.md": f"{MADE}\n\n{files_reference()}"}
    pages["docs/commands.md"] = commands_reference()
    pages["docs/validation.md"] = f"{MADE}\n\n{validation_page()}"
    for file in FILE_KINDS:
        pages[f"schema/{file}.schema.json"] = json.dumps(json_schema(file), indent=2, ensure_ascii=False) + "\n"
    return pages


def commands_reference() -> str:
    """Return what every command says of itself."""
    os.environ["COLUMNS"] = "100"
    root = parser()
    lines = [MADE, "", "# Commands", "", "```text", root.format_help().rstrip(), "```"]
    for name, command in commands_of(root).items():
        lines += ["", f"## {root.prog} {name}", "", "```text", command.format_help().rstrip(), "```"]
    return "\n".join(lines) + "\n"


def map_of_the_code() -> str:
    """Return the map: every module with the first line of its docstring."""
    lines = [MADE, "", "# Map of the code", "", f"Begin with {link('nookwright/plan.py')}: the stages in order."]
    packages = sorted(path.parent for path in (SOURCE / "nookwright").rglob("__init__.py"))
    for package in packages:
        lines += ["", f"## {package.relative_to(SOURCE)}", "", first_line(package / "__init__.py")]
        modules = sorted(path for path in package.glob("*.py") if path.name != "__init__.py")
        if modules:
            lines.append("")
        lines += [f"- {link(str(path.relative_to(SOURCE)))}: {first_line(path)}" for path in modules]
    return "\n".join(lines) + "\n"


def first_line(path: Path) -> str:
    """Return the first line of a module's docstring."""
    return (ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or "").partition("\n")[0]


def link(module: str) -> str:
    """Return a link from docs/ to a module."""
    return f"[{Path(module).name}](../src/{module})"


def main() -> int:
    """Write the pages, or with `--check` name those that are not current."""
    pages = generated_pages()
    stale = [name for name, text in pages.items() if not (ROOT / name).is_file() or (ROOT / name).read_text() != text]
    if "--check" in sys.argv[1:]:
        for name in stale:
            print(f"{name} is not what the code says: run `make docs`")
        return 1 if stale else 0
    for name in stale:
        page = ROOT / name
        page.parent.mkdir(parents=True, exist_ok=True)
        page.write_text(pages[name], encoding="utf-8")
        print(f"wrote {name}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
