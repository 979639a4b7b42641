"""Every notebook is executed."""

from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

NOTEBOOKS = sorted((Path(__file__).resolve().parents[1] / "notebooks").glob("*.ipynb"))


def test_there_are_notebooks() -> None:
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
def test_notebook_runs(path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)  # type: ignore[no-untyped-call]
    NotebookClient(notebook, timeout=120, kernel_name="python3", resources={"metadata": {"path": path.parent}}).execute()
