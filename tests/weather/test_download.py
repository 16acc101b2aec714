"""Fetching a year from a service on this computer: cache, permissions, time-out, secrets kept."""

import contextlib
import gzip
import http.server
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather.download import Request, download

SECRET = "a-secret-key"


class Service(http.server.BaseHTTPRequestHandler):
    """Answers every path with `body`, and remembers what it was asked."""

    body = b""
    status = 200
    delay = 0.0
    onward: dict[str, str] = {}  # noqa: RUF012
    asked: list[str] = []  # noqa: RUF012

    def do_GET(self) -> None:
        type(self).asked.append(self.path)
        time.sleep(self.delay)
        target = self.onward.get(self.path.split("?")[0])
        if target is not None:
            self.send_response(302)
            self.send_header("Location", target)
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        self.send_response(self.status)
        self.send_header("Content-Length", str(len(self.body)))
        self.end_headers()
        with contextlib.suppress(OSError):
            self.wfile.write(self.body)

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@pytest.fixture
def service() -> Iterator[tuple[type[Service], str]]:
    handler = type("Handler", (Service,), {"asked": [], "onward": {}})
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        server.daemon_threads = True
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
        thread.start()
        yield handler, f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()
        thread.join()


def test_a_pvgis_year_is_fetched_once_and_kept(
    tmp_path: Path, service: tuple[type[Service], str], files: dict[str, bytes]
) -> None:
    handler, address = service
    handler.body = files["pvgis_json"]
    folder = tmp_path / "kept"
    request = Request(40.0, 8.0, address)
    first = download(request, folder=folder)
    second = download(request, folder=folder)
    assert len(handler.asked) == 1
    assert "lat=40.0" in handler.asked[0]
    assert second.data.equals(first.data)
    assert any("(c) European Union" in finding.message for finding in second.findings)
    assert abs(first.closure_shift) < 0.02
    kept = list(folder.iterdir())
    assert [path.name for path in kept] == ["pvgis_40.0000_8.0000.csv.gz"]
    if sys.platform != "win32":
        assert kept[0].stat().st_mode & 0o777 == 0o600
        assert folder.stat().st_mode & 0o777 == 0o700


def test_the_fetched_year_is_the_files_year(
    tmp_path: Path, service: tuple[type[Service], str], files: dict[str, bytes], universal_year: object
) -> None:
    handler, address = service
    handler.body = files["pvgis_json"]
    found = download(Request(40.0, 8.0, address), folder=tmp_path / "kept")
    truth = universal_year.data  # type: ignore[attr-defined]
    np.testing.assert_allclose(found.data["ghi"], truth["ghi"], atol=0.006)
    assert found.utc_offset == pytest.approx(0.3)


def test_an_nsrdb_year_needs_a_key_and_never_shows_it(
    tmp_path: Path,
    service: tuple[type[Service], str],
    files: dict[str, bytes],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    handler, address = service
    request = Request(40.0, -75.0, address)
    monkeypatch.delenv("NSRDB_API_KEY", raising=False)
    with pytest.raises(WeatherError, match="NSRDB_API_KEY"):
        download(request, "nsrdb", folder=tmp_path / "kept")
    monkeypatch.setenv("NSRDB_API_KEY", SECRET)
    monkeypatch.setenv("NSRDB_EMAIL", "nobody@example.org")
    handler.status, handler.body = 403, b'{"errors": ["' + SECRET.encode() + b' was rejected"]}'
    with pytest.raises(WeatherError, match="refused with status 403") as refused:
        download(request, "nsrdb", folder=tmp_path / "kept")
    assert SECRET not in str(refused.value)
    # A year as the service sends it: whole numbers for zone and elevation.
    body = files["nsrdb"].replace(b",-5,100.0,-5,", b",-5,100,-5,", 1)
    handler.status, handler.body = 200, body
    found = download(request, "nsrdb", folder=tmp_path / "kept")
    assert found.wind_height == 2.0
    assert SECRET not in (found.station + "".join(map(str, found.findings)))
    kept = [gzip.decompress(path.read_bytes()) for path in (tmp_path / "kept").iterdir()]
    assert kept and not any(SECRET.encode() in text for text in kept)


@pytest.mark.parametrize(
    ("status", "body", "reason"),
    [
        (200, b"<html>sorry</html>", "PVGIS: "),
        (200, b"{}", "sent something else"),
        (200, b'{"inputs": {}, "outputs": {"tmy_hourly": []}, "meta": {}}', "sent something else"),
        (400, b'{"message": "Location over the sea", "status": 400}', "refused"),
        (500, b"no", "refused with status 500"),
    ],
)
def test_refusals_and_nonsense_end_in_one_line_and_keep_nothing(
    tmp_path: Path, service: tuple[type[Service], str], status: int, body: bytes, reason: str
) -> None:
    handler, address = service
    handler.status, handler.body = status, body
    with pytest.raises(WeatherError, match=reason) as told:
        download(Request(40.0, 8.0, address), folder=tmp_path / "kept")
    assert "\n" not in str(told.value)
    assert list((tmp_path / "kept").iterdir()) == []


def test_a_slow_service_is_left_after_the_time_out(
    tmp_path: Path, service: tuple[type[Service], str]
) -> None:
    handler, address = service
    handler.delay = 1.0
    with pytest.raises(WeatherError, match="no answer in time"):
        download(Request(40.0, 8.0, address, timeout=0.1), folder=tmp_path / "kept")


@pytest.mark.parametrize(
    "target",
    ["http://example.org/tmy", "https://example.org/tmy", "http://localhost:1/tmy", "ftp://127.0.0.1/tmy"],
)
def test_a_redirection_to_another_place_is_not_followed(
    tmp_path: Path, service: tuple[type[Service], str], target: str
) -> None:
    handler, address = service
    handler.onward = {"/tmy": target}
    with pytest.raises(WeatherError, match="another address, which isn't followed") as told:
        download(Request(40.0, 8.0, address), folder=tmp_path / "kept")
    assert "example" not in str(told.value)
    assert list((tmp_path / "kept").iterdir()) == []


def test_a_redirection_within_the_service_is_followed_but_not_for_ever(
    tmp_path: Path, service: tuple[type[Service], str], files: dict[str, bytes]
) -> None:
    handler, address = service
    handler.body = files["pvgis_json"]
    handler.onward = {"/tmy": "/elsewhere?lat=40.0"}
    assert len(download(Request(40.0, 8.0, address), folder=tmp_path / "kept").data) == 8760
    handler.onward = {"/tmy": "/tmy"}
    with pytest.raises(WeatherError, match="without end"):
        download(Request(41.0, 8.0, address), folder=tmp_path / "kept")


def test_an_endless_answer_is_cut_by_its_size(
    tmp_path: Path, service: tuple[type[Service], str], monkeypatch: pytest.MonkeyPatch
) -> None:
    handler, address = service
    monkeypatch.setattr("simengine.weather.fetch.MAX_ANSWER_BYTES", 100_000)
    handler.body = b" " * 1_000_000
    with pytest.raises(WeatherError, match="MiB; no typical year is so long"):
        download(Request(40.0, 8.0, address), folder=tmp_path / "kept")


def test_an_answer_in_drops_is_left_after_the_whole_time(
    tmp_path: Path, service: tuple[type[Service], str]
) -> None:
    """Every wait is shorter than the time-out, the whole is not."""
    handler, address = service

    def drip(self: Service) -> None:
        self.send_response(200)
        self.send_header("Content-Length", "1000000")
        self.end_headers()
        with contextlib.suppress(OSError):
            for _ in range(40):
                self.wfile.write(b" " * 70_000)
                time.sleep(0.03)

    handler.do_GET = drip  # type: ignore[method-assign]
    began = time.monotonic()
    with pytest.raises(WeatherError, match="no answer in time"):
        download(Request(40.0, 8.0, address, timeout=0.05), folder=tmp_path / "kept")
    assert time.monotonic() - began < 1.0


def test_a_key_that_the_service_sends_back_is_taken_out(
    tmp_path: Path,
    service: tuple[type[Service], str],
    files: dict[str, bytes],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    handler, address = service
    monkeypatch.setenv("NSRDB_API_KEY", SECRET)
    monkeypatch.setenv("NSRDB_EMAIL", "nobody@example.org")
    handler.body = files["nsrdb"].replace(b"NSRDB,0,-,-,-,", f"NSRDB,0,{SECRET},-,-,".encode(), 1)
    handler.body = handler.body.replace(b",-5,100.0,-5,", b",-5,100,-5,", 1)
    found = download(Request(40.0, -75.0, address), "nsrdb", folder=tmp_path / "kept")
    assert SECRET not in found.station
    kept = next((tmp_path / "kept").iterdir())
    assert SECRET.encode() not in gzip.decompress(kept.read_bytes())


def test_no_service_is_told(tmp_path: Path) -> None:
    with pytest.raises(WeatherError, match="can't be reached"):
        download(Request(40.0, 8.0, "http://127.0.0.1:9/"), folder=tmp_path / "kept")


@pytest.mark.parametrize("address", ["http://example.org/", "ftp://127.0.0.1/", "file:///etc/passwd"])
def test_only_https_is_asked(tmp_path: Path, address: str) -> None:
    with pytest.raises(WeatherError, match="https only"):
        download(Request(40.0, 8.0, address), folder=tmp_path / "kept")


def test_unknown_services_and_places_are_refused(tmp_path: Path) -> None:
    with pytest.raises(WeatherError, match="accepted: pvgis, nsrdb"):
        download(Request(40.0, 8.0), "oracle", folder=tmp_path)
    with pytest.raises(WeatherError, match="latitude"):
        download(Request(140.0, 8.0), folder=tmp_path)


@pytest.mark.skipif(sys.platform == "win32", reason="permissions of another kind")
def test_a_folder_that_others_can_write_is_refused(tmp_path: Path) -> None:
    open_folder = tmp_path / "open"
    open_folder.mkdir()
    open_folder.chmod(0o777)
    with pytest.raises(WeatherError, match="others can write"):
        download(Request(40.0, 8.0, "http://127.0.0.1:9/"), folder=open_folder)
