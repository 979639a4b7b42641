"""The two programs of a stranger run: a service of single checks, and a checker of sheets."""

from __future__ import annotations

import json
import runpy
import threading
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

STRANGERS = Path(__file__).resolve().parents[2] / "examples" / "strangers"


def test_the_service_answers_one_check_a_request() -> None:
    service = runpy.run_path(str(STRANGERS / "check_service.py"))["serve"](0)
    thread = threading.Thread(target=service.serve_forever)
    thread.start()

    def post(path: str, asked: Any) -> tuple[int, Any]:
        url = f"http://127.0.0.1:{service.server_address[1]}{path}"
        try:
            with urllib.request.urlopen(urllib.request.Request(url, json.dumps(asked).encode()), timeout=20) as found:
                return found.status, json.loads(found.read())
        except urllib.error.HTTPError as refused:
            with refused:
                return refused.code, json.loads(refused.read())

    try:
        # 40 kN of own weight a bearing over 37.5 kN of uplift, whatever else is asked at the time
        asked = {"span": "8 m", "self_weight": "10 kN/m", "pulls": [["3 m", "60 kN"]], "units": "SI"}
        with ThreadPoolExecutor(8) as pool:
            answers = list(pool.map(lambda _: post("/reaction", asked), range(24)))
        assert all(status == 200 for status, _ in answers)
        assert all(abs(found["result"]["bearings"][0]["factor"] - 40 / 37.5) < 1e-12 for _, found in answers)
        status, found = post("/reaction", {**asked, "span": "-8 m", "self_weight": "10 kN"})
        assert status == 422 and sorted(issue["path"] for issue in found["issues"]) == ["self_weight", "span"]
        assert post("/nothing", {})[0] == 404 and post("/reaction", {"spam": 1})[0] == 400
    finally:
        service.shutdown()
        thread.join()
        service.server_close()


def test_the_checker_says_where_a_sheet_differs(capsys: Any) -> None:
    assert runpy.run_path(str(STRANGERS / "sheet_checker.py"))["main"](STRANGERS / "sheet.csv") > 0
    rows = dict(line.split(": ", 1) for line in capsys.readouterr().out.splitlines())
    assert len(rows) == 10
    # 2 of 12 mm; 3.2 of 12 mm is more than a quarter; 2.9 is less, but not by U = 0.25 mm; 40 mm is more than 6000/180
    assert rows["A1"] == rows["A2"] == rows["B2"] == "as in the sheet"
    assert "acceptance: the sheet says pass" in rows["A3"] and "not by its uncertainty" in rows["A4"]
    assert "fail on deflection" in rows["A5"] and "deflection" in rows["B4"]
    # (24 + 20)/20 where the sheet has 2.16; (24 + 5)/12; a pull beyond the member
    assert "it is 2.20" in rows["B1"] and "it is 2.42" in rows["B3"] and "lift-off: pulls.at" in rows["B5"]
