"""Send one wall to a Soleplate server, and print the running marks of its sole plate, length by length.

    pip install httpx
    soleplate serve                                  in another terminal
    python wall_marks.py [http://127.0.0.1:8017]

A server that asks for a token takes it from the environment variable SOLEPLATE_TOKEN.
"""

from __future__ import annotations

import os
import sys
import time

import httpx

TRIES = 5
"""While the server is busy."""

WALL = {
    "name": "partition",
    "frame": {"section": [38, 63]},
    "length": 3120,
    "height": 2400,
    "openings": [{"name": "door", "kind": "door", "width": 838, "height": 2040, "at": {"left": 1400}}],
}


def ask(url: str, headers: dict[str, str]) -> httpx.Response:
    """The answer; a server that is busy is asked again after as long as it says."""
    for _ in range(TRIES):
        answer = httpx.post(url, json=WALL, headers=headers, timeout=30)
        if answer.status_code != httpx.codes.SERVICE_UNAVAILABLE:
            break
        time.sleep(float(answer.headers["Retry-After"]))
    return answer


def main(address: str) -> int:
    """Print the marks; 1 where the server has none to give."""
    token = os.environ.get("SOLEPLATE_TOKEN")
    headers = {"Authorization": f"Bearer {token}"} if token else {}
    try:
        answer = ask(f"{address.rstrip('/')}/v1/walls", headers)
    except httpx.TransportError as error:
        print(f"no answer from {address}: {error}", file=sys.stderr)
        return 1
    if answer.is_error:
        problem = answer.json()
        print(f"{problem['title']}: {problem['detail']}", file=sys.stderr)
        if httpx.URL(problem["type"]).path == "/problems/no-token":
            print("set SOLEPLATE_TOKEN to the server's token", file=sys.stderr)
        return 1
    layout = answer.json()
    for wall in layout["walls"]:
        for length in wall["plate_lengths"]:
            if length["plate"] == "sole plate":
                print(f"{wall['name']}, sole plate {length['mark']}, from {length['start']:.1f} mm on:")
                for mark in length["marks"]:
                    print(f"{mark['at']:10.1f} mm  {mark['mark']}")
    for caution in layout["cautions"]:
        print(caution)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8017"))
