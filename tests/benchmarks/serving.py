"""How many calls a second the server answers, beside a bare endpoint; how soon while it is full of plans."""

from __future__ import annotations

import asyncio
import socket
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import count

from soleplate.engine.sawing import SawPlanRequest
from tests.benchmarks.bodies import HOUSE, WALL, house, wall
from tests.engine.sawing.instances import triplets
from tests.serving import serving

CONNECTIONS = 16
SECONDS = 2.0
ROUNDS = 5
PLANNING = 8
"""Callers who send one plan after another; each takes seconds to prove, if it can be."""


async def post(reader: asyncio.StreamReader, writer: asyncio.StreamWriter, call: bytes, body: bytes) -> int:
    """The status of one call over a connection that stays open."""
    head = b"%s HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n"
    writer.write(head % (call, len(body)) + body)
    answer = await reader.readuntil(b"\r\n\r\n")
    length = int(answer.lower().partition(b"content-length:")[2].partition(b"\r\n")[0])
    await reader.readexactly(length)
    return int(answer[9:12])


async def calls_a_second(port: int, path: str, bodies: Callable[[], bytes]) -> float:
    """How many calls are answered in a second, over some connections at once."""
    end = time.perf_counter() + SECONDS

    async def caller() -> int:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        done = 0
        while time.perf_counter() < end:
            status = await post(reader, writer, f"POST {path}".encode(), bodies())
            done += status == 200
        writer.close()
        return done

    return sum(await asyncio.gather(*(caller() for _ in range(CONNECTIONS)))) / SECONDS


async def waits(port: int, seconds: float) -> list[float]:
    """How long `/health` takes, ms, asked again and again on a connection of its own each time."""
    took = []
    end = time.perf_counter() + seconds
    while time.perf_counter() < end:
        start = time.perf_counter()
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        assert await post(reader, writer, b"GET /health", b"") == 200
        took.append((time.perf_counter() - start) * 1000)
        writer.close()
        await asyncio.sleep(0.005)
    return took


async def waits_among_plans(port: int) -> tuple[list[float], int]:
    """The same under as many plans as the server takes, and how many of those it answered or put off."""
    numbers = count()
    answered = 0

    def plan() -> bytes:
        request: SawPlanRequest = triplets(249, next(numbers), 4.0)
        return request.model_dump_json(exclude_none=True).encode()

    async def planner() -> None:
        nonlocal answered
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        while True:
            await post(reader, writer, b"POST /v1/saw-plans", plan())
            answered += 1

    planners = [asyncio.create_task(planner()) for _ in range(PLANNING)]
    await asyncio.sleep(5.0)  # until every worker has started
    took = await waits(port, 20.0)
    for task in planners:
        task.cancel()
    return took, answered


def told(took: list[float]) -> str:
    shares = statistics.quantiles(took, n=100)
    return f"median {shares[49]:.1f} ms, p99 {shares[98]:.1f} ms, longest {max(took):.1f} ms of {len(took)}"


@contextmanager
def bare() -> Iterator[int]:
    """The bare endpoint in a process of its own; yields its port."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    command = [
        sys.executable, "-m", "uvicorn", "--factory", "tests.benchmarks.bare:app", "--port", str(port),
        "--log-level", "warning", "--no-access-log",
    ]  # fmt: skip
    with subprocess.Popen(command) as process:
        try:
            while True:
                try:
                    socket.create_connection(("127.0.0.1", port)).close()
                    break
                except OSError:
                    time.sleep(0.1)
            yield port
        finally:
            process.terminate()


def ratio(plain: int, port: int, path: str, least: bytes, bodies: Callable[[], bytes]) -> str:
    """Our calls a second beside the bare endpoint's, by turns so that both have the same machine."""
    rounds = []
    for _ in range(ROUNDS):
        beside = asyncio.run(calls_a_second(plain, path, lambda: least))
        ours = asyncio.run(calls_a_second(port, path, bodies))
        rounds.append((ours / beside, ours, beside))
    of_bare, ours, beside = sorted(rounds)[ROUNDS // 2]
    return f"{ours:.0f} calls a second against {beside:.0f}, {of_bare:.2f} of the bare endpoint"


def main() -> None:
    """Print the figures."""
    numbers = count(1)
    cases: tuple[tuple[str, str, bytes, Callable[[], bytes]], ...] = (
        ("one wall, the same again", "/v1/walls", WALL, lambda: WALL),
        ("one wall, each another", "/v1/walls", WALL, lambda: wall(next(numbers))),
        ("four walls, the same again", "/v1/layouts", HOUSE, lambda: HOUSE),
        ("four walls, each another", "/v1/layouts", HOUSE, lambda: house(next(numbers))),
    )
    with bare() as plain, serving() as server:
        port = int(server.address.rsplit(":", 1)[1].rstrip("/"))
        asyncio.run(
            calls_a_second(port, "/v1/walls", lambda: wall(next(numbers)))
        )  # the workers have started
        for name, path, least, bodies in cases:
            print(f"{name}: {ratio(plain, port, path, least, bodies)}")
        print(f"/health, idle: {told(asyncio.run(waits(port, 5.0)))}")
        took, answered = asyncio.run(waits_among_plans(port))
        print(f"/health among plans: {told(took)}; {answered} plans (target p99 50 ms)")


if __name__ == "__main__":
    main()
