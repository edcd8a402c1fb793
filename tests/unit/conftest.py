"""What several tests of the front desk ask with."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from hideledger.cli import main


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """A command without a shell: exit code, answer, and what was complained of."""

    def asked(*argv: str) -> tuple[int, str, str]:
        code = main(argv)
        return code, *capsys.readouterr()

    return asked
