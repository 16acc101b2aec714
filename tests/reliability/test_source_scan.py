"""The package's own source: nothing that runs what a file holds, nothing that only one system knows."""

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from simengine.report.page import templates

UNSAFE_MODULES = {
    "pickle", "cPickle", "dill", "cloudpickle", "joblib", "shelve", "marshal", "yaml", "xml", "lxml",
    "ftplib", "telnetlib", "code", "codeop", "imp", "runpy", "pty",
}  # fmt: skip
UNSAFE_CALLS = {"eval", "exec", "compile", "__import__", "os.system", "os.popen", "os.startfile"}
UNSAFE_ATTRIBUTES = {"extractall", "read_pickle", "to_pickle", "from_string", "set_dangerously"}
POSIX_MODULES = {"fcntl", "pwd", "grp", "termios", "tty", "pty", "resource", "syslog", "posix", "crypt"}
POSIX_NAMES = {
    "os.fork", "os.forkpty", "os.killpg", "os.setsid", "os.setpgid", "os.getuid", "os.geteuid", "os.getgid",
    "os.chown", "os.lchown", "os.mkfifo", "os.nice", "os.uname", "os.getpgid", "os.wait", "os.waitpid",
    "os.statvfs", "os.getloadavg", "os.sched_getaffinity", "signal.SIGKILL", "signal.SIGHUP",
    "signal.SIGALRM", "signal.SIGUSR1", "signal.SIGUSR2", "signal.alarm", "signal.setitimer", "signal.pause",
    "time.tzset", "socket.AF_UNIX", "signal.pthread_sigmask",
}  # fmt: skip
DOORS = ("sys.platform", "os.name", "hasattr", "platform.system")
"""What a function asks before it uses what only some systems have."""


def package(repository: Path) -> Iterator[tuple[str, ast.Module]]:
    for path in sorted((repository / "simengine").rglob("*.py")):
        yield str(path.relative_to(repository)), ast.parse(path.read_text(encoding="utf-8"))


def imported(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module


def unsafe(tree: ast.AST) -> Iterator[str]:
    """Yield what could run code out of a file: modules, calls, unpacking to disk, templates from text."""
    yield from (name for name in imported(tree) if name.split(".")[0] in UNSAFE_MODULES)
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        called = ast.unparse(node.func)
        if called in UNSAFE_CALLS or called.rsplit(".", 1)[-1] in UNSAFE_ATTRIBUTES:
            yield called
        for word in node.keywords:
            value = ast.unparse(word.value)
            if (word.arg, value) in (("shell", "True"), ("allow_pickle", "True"), ("autoescape", "False")):
                yield f"{called}({word.arg}={value})"
            if word.arg == "verify" and value == "False":
                yield f"{called}(verify=False)"


def only_somewhere(tree: ast.AST) -> Iterator[str]:
    """Yield what only POSIX knows, where the function around it does not ask for the system first."""
    asked = [
        node for node in ast.walk(tree) if isinstance(node, ast.If) and "platform" in ast.unparse(node.test)
    ]
    guarded = {name for node in asked for name in imported(node)}
    yield from (
        name for name in imported(tree) if name.split(".")[0] in POSIX_MODULES and name not in guarded
    )
    for outer in (tree, *(node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))):
        found = [name for node in _own(outer) for name in _posix(node)]
        if found and not any(door in ast.unparse(outer) for door in DOORS if outer is not tree):
            yield from found


def _own(outer: ast.AST) -> Iterator[ast.AST]:
    """Yield what is in a module outside its functions, or in a function outside those within it."""
    for node in ast.iter_child_nodes(outer):
        if not isinstance(node, ast.FunctionDef):
            yield node
            yield from _own(node)


def _posix(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        name = f"{node.value.id}.{node.attr}"
        if name in POSIX_NAMES:
            yield name


def test_nothing_in_the_package_runs_what_a_file_holds(repository: Path) -> None:
    assert [(name, found) for name, tree in package(repository) for found in unsafe(tree)] == []


def test_nothing_in_the_package_needs_posix(repository: Path) -> None:
    assert [(name, found) for name, tree in package(repository) for found in only_somewhere(tree)] == []


@pytest.mark.parametrize(
    "line",
    [
        "import pickle",
        "from xml.etree import ElementTree",
        "eval(text)",
        "subprocess.run(line, shell=True)",
        "os.system(line)",
        "archive.extractall(folder)",
        "np.load(path, allow_pickle=True)",
        "jinja2.Environment(autoescape=False)",
        "environment.from_string(text)",
        "yaml = 1\nimport yaml",
    ],
)
def test_the_search_finds_what_could_run_code(line: str) -> None:
    assert list(unsafe(ast.parse(line)))


@pytest.mark.parametrize("line", ["import fcntl", "os.fork()", "def f():\n    os.kill(1, signal.SIGKILL)"])
def test_the_search_finds_what_only_posix_knows(line: str) -> None:
    assert list(only_somewhere(ast.parse(line)))


def test_a_door_before_it_is_an_alternative() -> None:
    asked = "def f():\n    if hasattr(os, 'getuid'):\n        os.getuid()"
    assert not list(only_somewhere(ast.parse(asked)))


def test_every_template_of_the_report_is_escaped() -> None:
    found = templates()
    assert found.autoescape is True
    assert found.loader is not None
    for name in found.list_templates(extensions=["html"]):
        source = (found.loader.get_source(found, name))[0]
        assert "|safe" not in source.replace(" ", ""), name


def test_the_build_runs_no_hook_of_its_own(repository: Path) -> None:
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))
    hatch = project["tool"]["hatch"]
    assert "hooks" not in hatch["build"] and "hooks" not in hatch.get("metadata", {})
    assert not (repository / "setup.py").exists()
