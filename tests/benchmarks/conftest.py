"""One table of ratios after every benchmark run: what each test left in `extra_info`."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

FIGURES = pytest.StashKey[dict[str, dict[str, object]]]()


@pytest.fixture(autouse=True)
def _kept(request: pytest.FixtureRequest) -> Iterator[None]:
    """Keep what a benchmark has to say besides its times."""
    asked = "benchmark" in request.fixturenames
    benchmark = request.getfixturevalue("benchmark") if asked else None
    yield
    if benchmark is not None:
        name = f"{request.node.path.stem}: {request.node.name}"
        request.config.stash.setdefault(FIGURES, {})[name] = dict(benchmark.extra_info)


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    """Print the figures, one benchmark a line."""
    figures = {name: said for name, said in config.stash.get(FIGURES, {}).items() if said}
    if not figures:
        return
    terminalreporter.section("ratios and figures")
    for name, said in figures.items():
        terminalreporter.write_line(name)
        terminalreporter.write_line("    " + ", ".join(f"{what}: {v}" for what, v in said.items()))
