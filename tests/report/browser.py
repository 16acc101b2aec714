"""A headless Chromium that the tests steer through two pipes, by its open remote protocol."""

import base64
import json
import os
import select
import shutil
import subprocess
import time
from pathlib import Path
from types import TracebackType
from typing import Any, Self

CHROMIUM = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))),
    None,
)
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--hide-scrollbars",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--remote-debugging-pipe",
)
WAIT = 60.0  # [s]


class Browser:
    """One tab. Errors on its console and what it asks the network for are noted."""

    def __init__(self, profile: Path) -> None:
        assert CHROMIUM is not None
        to_browser, self._write = os.pipe()
        self._read, from_browser = os.pipe()
        # the protocol wants its pipes as numbers 3 and 4
        command = 'exec 3<&"$0" 4>&"$1"; shift; exec "$@"'
        arguments = [str(to_browser), str(from_browser), CHROMIUM, *FLAGS, f"--user-data-dir={profile}"]
        self._process = subprocess.Popen(
            ["bash", "-c", command, *arguments, "about:blank"],
            pass_fds=(to_browser, from_browser),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(to_browser)
        os.close(from_browser)
        self._pending = b""
        self._number = 0
        self._session: str | None = None
        self.complaints: list[str] = []
        self.requests: list[str] = []
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for part in ("Page", "Runtime", "Network", "Log"):
            self.ask(f"{part}.enable")

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._process.kill()
        self._process.wait()
        os.close(self._write)
        os.close(self._read)

    def ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Send one command and return its answer; note the events that come before it."""
        self._number += 1
        message = {"id": self._number, "method": method, "params": parameters}
        if self._session is not None:
            message["sessionId"] = self._session
        os.write(self._write, json.dumps(message).encode() + b"\0")
        while True:
            event = self._next()
            if event.get("id") == self._number:
                assert "error" not in event, event["error"]
                return dict(event["result"])
            self._note(event)

    def open(self, path: Path, width: int = 1280, height: int = 900) -> None:
        """Load a file and wait until it stands."""
        self.ask(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=width < 600,
        )
        self.ask("Page.navigate", url=path.as_uri())
        end = time.monotonic() + WAIT
        while self.value("document.readyState") != "complete":
            assert time.monotonic() < end, "the page never stood"

    def value(self, expression: str) -> Any:
        """Return what a JavaScript expression is worth in the page."""
        answer = self.ask("Runtime.evaluate", expression=expression, returnByValue=True)
        assert "exceptionDetails" not in answer, answer["exceptionDetails"]
        return answer["result"].get("value")

    def picture(self, path: Path, whole: bool = True) -> None:
        """Write a picture of the page."""
        data = self.ask("Page.captureScreenshot", format="png", captureBeyondViewport=whole)["data"]
        path.write_bytes(base64.b64decode(data))

    def paper(self, width: float, height: float) -> bytes:
        """Return the page printed on paper of a size [in], as PDF."""
        answer = self.ask("Page.printToPDF", paperWidth=width, paperHeight=height, preferCSSPageSize=False)
        return base64.b64decode(answer["data"])

    def _next(self) -> dict[str, Any]:
        end = time.monotonic() + WAIT
        while b"\0" not in self._pending:
            ready, _, _ = select.select([self._read], [], [], max(end - time.monotonic(), 0.0))
            assert ready, "the browser does not answer"
            piece = os.read(self._read, 1 << 16)
            assert piece, "the browser has gone"
            self._pending += piece
        line, _, self._pending = self._pending.partition(b"\0")
        return dict(json.loads(line))

    def _note(self, event: dict[str, Any]) -> None:
        method, said = event.get("method"), event.get("params", {})
        if method == "Runtime.exceptionThrown":
            self.complaints.append(str(said["exceptionDetails"].get("text")))
        elif method == "Runtime.consoleAPICalled" and said["type"] in ("error", "warning", "assert"):
            self.complaints.append(str(said["args"]))
        elif method == "Log.entryAdded" and said["entry"]["level"] in ("error", "warning"):
            self.complaints.append(said["entry"]["text"])
        elif method == "Network.requestWillBeSent":
            self.requests.append(said["request"]["url"])
