"""What every test leaves behind."""

from __future__ import annotations

from collections.abc import Iterator

import pytest


@pytest.fixture(autouse=True)
def no_pictures_are_left() -> Iterator[None]:
    """Closes what a test drew."""
    yield
    import matplotlib.pyplot as plt

    plt.close("all")
