"""A weather service on this computer for the tests of this room."""

import contextlib
import http.server
import threading
from collections.abc import Iterator

import pytest

from tests.weather.made_files import pvgis_json_text


@pytest.fixture
def pvgis_service() -> Iterator[tuple[list[str], str]]:
    """What a service on this computer was asked, and its address; it answers with an invented year."""
    from simengine.weather.normals import Normals, Place
    from simengine.weather.synthetic import synthetic_year

    ghi = (1.8, 2.6, 3.7, 4.8, 5.6, 6.2, 6.0, 5.3, 4.3, 3.1, 2.0, 1.6)
    warmth = (-1.0, 0.5, 5.0, 11.0, 16.5, 21.5, 24.0, 23.0, 19.0, 12.5, 7.0, 1.5)
    year = synthetic_year(Place(40.0, 8.0, 100.0, 0.3, "Made Up East"), Normals(ghi, warmth), seed=1)
    body = pvgis_json_text(year, 0.2).encode()
    asked: list[str] = []

    class Service(http.server.BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked.append(self.path)
            self.send_response(200)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            with contextlib.suppress(OSError):
                self.wfile.write(body)

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), Service) as server:
        server.daemon_threads = True
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
        thread.start()
        yield asked, f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()
        thread.join()
