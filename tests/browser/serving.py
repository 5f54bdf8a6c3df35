"""Servers and a browser for tests: each on a free port, with folders of its own, ended with the test."""

from __future__ import annotations

import contextlib
import os
import socket
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from deckplan.panels.opening import MAIN, command, environment, settle_in

CHROMIUM = "/usr/bin/chromium"
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
TOKEN = "only-for-this-test"


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def answers(url: str) -> bool:
    try:
        with urllib.request.urlopen(url, timeout=2):
            return True
    except urllib.error.HTTPError:
        return True
    except OSError:
        return False


@contextlib.contextmanager
def served(folder: Path, app: bool) -> Iterator[str]:
    """Serve the workbooks of a folder as `deckplan open` does; gives the address of the main one."""
    settle_in(folder)
    port = free_port()
    own = {name: str(folder / ".jupyter" / name) for name in ("config", "data", "runtime")}
    for path in own.values():
        Path(path).mkdir(parents=True, exist_ok=True)
    env = environment(folder, None) | {
        "JUPYTER_CONFIG_DIR": own["config"],
        "JUPYTER_DATA_DIR": own["data"],
        "JUPYTER_RUNTIME_DIR": own["runtime"],
    }
    if app:
        more = [f"--port={port}", "--no-browser", "--show_tracebacks=True", "--Voila.ip=127.0.0.1"]
        url = f"http://127.0.0.1:{port}/"
    else:
        more = [
            f"--port={port}", "--no-browser", "--ip=127.0.0.1", "--ServerApp.port_retries=0",
            f"--IdentityProvider.token={TOKEN}",
        ]  # fmt: skip
        url = f"http://127.0.0.1:{port}/lab/workspaces/auto-x/tree/{MAIN}?token={TOKEN}&reset"
    log = (folder / "server.log").open("wb")
    server = subprocess.Popen(command(app, *more), cwd=folder, env=env, stdout=log, stderr=log)
    try:
        until = time.monotonic() + 60
        while not answers(url):
            if server.poll() is not None or time.monotonic() > until:
                raise AssertionError((folder / "server.log").read_text(errors="replace")[-3000:])
            time.sleep(0.2)
        yield url
    finally:
        server.terminate()
        try:
            server.wait(10)
        except subprocess.TimeoutExpired:
            server.kill()
        log.close()


@dataclass
class Seen:
    """What a page did: where it asked, what it complained of."""

    outside: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)


@contextlib.contextmanager
def browsing(width: int = 1440, height: int = 1000) -> Iterator[tuple[Page, Seen]]:
    """Open a page in a headless browser and watch what it asks for."""
    if not os.path.exists(CHROMIUM):
        raise AssertionError(f"{CHROMIUM} is not installed")
    with sync_playwright() as playwright:
        browser: Browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_page(viewport={"width": width, "height": height})
        seen = Seen()

        def asked(request: object) -> None:
            url = str(getattr(request, "url", ""))
            if not url.startswith(("http://127.0.0.1", "ws://127.0.0.1", "data:", "blob:", "about:")):
                seen.outside.append(url)

        page.on("request", asked)
        page.on("pageerror", lambda error: seen.errors.append(str(error)))
        try:
            yield page, seen
        finally:
            browser.close()
