"""What every test may count on: no colour, eighty columns, no slow-machine alarms from made-up examples."""

import os
import signal

import hypothesis
import pytest

# A busy machine takes longer over the same example; how long is measured by tests/bench, not judged here. The same examples each time
# where a failure must be the fault of the change that is looked at; others each time at a desk.
hypothesis.settings.register_profile("shop", deadline=None, derandomize="CI" in os.environ)
hypothesis.settings.load_profile("shop")

# Where the tests run behind a shell that keeps Ctrl-C from them, the programs that they start would be deaf to it too.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
if hasattr(signal, "SIGQUIT") and signal.getsignal(signal.SIGQUIT) is signal.SIG_IGN:
    signal.signal(signal.SIGQUIT, signal.SIG_DFL)


@pytest.fixture(autouse=True)
def plain_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    """The width and colours of the screen that happens to run the tests must not reach the answers."""
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("NO_COLOR", "1")
    for name in ("FORCE_COLOR", "TTY_COMPATIBLE"):
        monkeypatch.delenv(name, raising=False)
