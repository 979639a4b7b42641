"""The Python lines of the README run."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def test_the_python_of_the_readme_runs(monkeypatch: object) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```python\n(.*?)```", readme, flags=re.S)
    assert blocks
    import os

    here = os.getcwd()
    os.chdir(ROOT)
    try:
        for block in blocks:
            exec(compile(block, "README.md", "exec"), {})
    finally:
        os.chdir(here)
