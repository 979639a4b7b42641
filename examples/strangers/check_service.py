"""A service that answers one check per request: `POST /reaction`, `/acceptance`, `/test_load`, `/hydraulics`.

The body is JSON with the arguments of the step; the answer is the result in the units asked for, or, with
status 422, every problem at once. Each request has a thread of its own.

    python check_service.py 8080
    curl -d '{"span": "8 m", "self_weight": "10 kN/m", "pulls": [["3 m", "60 kN"]]}' localhost:8080/reaction
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

import proofspan as ps

STEPS: dict[str, Callable[..., Any]] = {
    "/reaction": ps.reaction,
    "/acceptance": ps.acceptance,
    "/test_load": ps.test_load,
    "/hydraulics": ps.hydraulics,
}


def answer(path: str, body: bytes) -> tuple[int, Any]:
    """Status and answer of one request."""
    step = STEPS.get(path)
    if step is None:
        return 404, {"steps": sorted(STEPS)}
    try:
        asked = json.loads(body)
        units = asked.pop("units", "SI") if isinstance(asked, dict) else "SI"
        found = step(**asked)
        return 200, {"result": found.to_dict(units=units), "working": str(found.working(units))}
    except ps.ProofspanError as refused:
        return 422, {"issues": refused.issues}
    except (TypeError, ValueError) as wrong:
        return 400, {"message": str(wrong)}


class Service(BaseHTTPRequestHandler):
    """One request."""

    def do_POST(self) -> None:
        length = min(int(self.headers.get("Content-Length") or 0), 1 << 20)
        status, found = answer(self.path, self.rfile.read(length))
        body = json.dumps(found, ensure_ascii=False).encode()
        self.send_response(status)
        self.send_header("Content-Type", "application/json; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:
        """No line a request."""


def serve(port: int) -> ThreadingHTTPServer:
    """The service on a port of this machine; 0 takes a free one."""
    return ThreadingHTTPServer(("127.0.0.1", port), Service)


if __name__ == "__main__":
    serve(int(sys.argv[1]) if len(sys.argv) > 1 else 8080).serve_forever()
