"""What a plain install puts on a player's machine, and that it works from any folder."""

import json
import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


def run(*command: str | Path, folder: Path, home: Path) -> str:
    environ = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "PYTHONSAFEPATH")}
    for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME"):
        environ[name] = str(home)
    child = subprocess.run(
        [str(part) for part in command],
        cwd=folder,
        env=environ,
        capture_output=True,
        text=True,
        timeout=110,
        check=False,
    )
    assert child.returncode == 0, child.stdout + child.stderr
    return child.stdout


class Installed:
    """A fresh environment with the wheel, borrowing the present one's libraries."""

    def __init__(self, folder: Path) -> None:
        self.home = folder / "home"
        self.elsewhere = folder / "elsewhere"
        for each in (self.home, self.elsewhere):
            each.mkdir()
        environment = folder / "venv"
        venv.create(environment, with_pip=False, symlinks=True)
        self.python = environment / "bin" / "python"
        self.packages = Path(sysconfig.get_path("purelib", vars={"base": str(environment)}))
        self.packages.mkdir(parents=True, exist_ok=True)
        self.before = {path.name for path in self.packages.iterdir()}
        pip = [sys.executable, "-m", "pip", "--python", self.python, "install", "-q", "--no-deps"]
        run(*pip, ROOT, folder=folder, home=self.home)
        self.gained = {path.name for path in self.packages.iterdir()} - self.before
        borrowed = [path for path in sys.path if path.endswith("site-packages")]
        (self.packages / "borrowed.pth").write_text("\n".join(borrowed), encoding="utf-8")

    def run(self, *command: str) -> str:
        return run(self.python, *command, folder=self.elsewhere, home=self.home)

    def command(self, *arguments: str) -> str:
        return run(self.python.parent / "stillhand", *arguments, folder=self.elsewhere, home=self.home)


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    return Installed(tmp_path_factory.mktemp("installed"))


def test_site_packages_gains_stillhand_alone(installed: Installed) -> None:
    names = {name for name in installed.gained if not name.endswith(".dist-info")}
    assert names == {"stillhand"}


def test_the_installed_command_reads_a_chord(installed: Installed) -> None:
    assert json.loads(installed.command("chord", "Dbmaj7", "--json"))["root"] == "Db"


def test_the_installed_command_plans_a_chart(installed: Installed) -> None:
    songs = json.loads(installed.command("plan", "--chart", "| Dm7 | G7 | Cmaj7 |", "--json"))["songs"]
    assert len(songs[0]["steps"]) == 3


def test_the_module_runs_as_the_command_does(installed: Installed) -> None:
    assert installed.run("-m", "stillhand", "chord", "C6").startswith("C6")


def test_the_demo_set_is_found_from_any_folder(installed: Installed) -> None:
    opened = "print(len(store.open_set(store.demo_set()).songs))"
    code = f"import stillhand.__main__; from tui.persistence import store; {opened}"
    assert int(installed.run("-c", code)) >= 1


def test_the_installed_command_prints_sheets_with_its_own_letters(installed: Installed) -> None:
    (installed.elsewhere / "song.toml").write_text(
        'title = "One"\nkey = "C"\nmeter = "4/4"\ntempo = 90\n[sections.A]\nbars = "| C | G7 |"\n', encoding="utf-8"
    )
    installed.command("export", "song.toml", "--to", "one.pdf")
    assert (installed.elsewhere / "one.pdf").read_bytes().startswith(b"%PDF")


def test_what_is_no_python_is_installed_too(installed: Installed) -> None:
    lib = installed.packages / "stillhand" / "lib"
    carried = {path.relative_to(lib) for path in lib.rglob("*")}
    ours = [path for name in ("engine", "tui", "setlists") for path in (ROOT / name).rglob("*.*") if path.is_file()]
    expected = {path.relative_to(ROOT) for path in ours if "__pycache__" not in path.parts}
    assert expected - carried <= {Path("tui/_launch.py")}


def test_another_package_named_tui_is_not_in_the_way(installed: Installed) -> None:
    foreign = installed.packages / "tui"
    foreign.mkdir()
    (foreign / "__init__.py").write_text("raise SystemExit('the wrong tui')", encoding="utf-8")
    try:
        assert installed.command("chord", "C6").startswith("C6")
    finally:
        (foreign / "__init__.py").unlink()
        foreign.rmdir()


@pytest.mark.parametrize("start", ["command", "module"])
def test_an_installed_command_runs_nothing_of_the_current_folder(
    installed: Installed, tmp_path: Path, start: str
) -> None:
    names = {*sys.stdlib_module_names, "tui", "engine", "click", "numpy", "tomlkit", "platformdirs"}
    # What Python's own -m imports before us is Python's to mend.
    before = run(installed.python, "-c", "import runpy, sys; print(*sys.modules)", folder=tmp_path, home=installed.home)
    for name in names - {"stillhand", "pkgutil", *(module.partition(".")[0] for module in before.split())}:
        (tmp_path / f"{name}.py").write_text(f"open({str(tmp_path / 'run')!r}, 'a').write('{name} ')\n")
    begin = [installed.python.parent / "stillhand"] if start == "command" else [installed.python, "-m", "stillhand"]
    told = run(*begin, "plan", "--chart", "| Dm7 | G7 |", folder=tmp_path, home=installed.home)
    assert "Dm7" in told
    assert not (tmp_path / "run").exists(), (tmp_path / "run").read_text()
