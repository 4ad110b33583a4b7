"""Whatever is remembered to be quick has a bound: an evening's use cannot fill the machine."""

import contextlib
import importlib
import pkgutil

import engine
import tui
from tests.bench.growth import kept


def test_every_function_that_remembers_its_answers_forgets_the_oldest() -> None:
    for package in (engine, tui):
        for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            with contextlib.suppress(ImportError):
                importlib.import_module(module.name)
    memories = dict(kept())
    assert memories
    assert [name for name, info in memories.items() if info.maxsize is None] == []
