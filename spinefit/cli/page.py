"""The whole job in a browser, on this machine only: the command ``spinefit page``.

In: a job file to begin with, or none. Out: one line with the address, which only who has it can
open; then it serves until Ctrl-C, and ends with 0. The server is loaded by this command alone.
"""

from __future__ import annotations

import os
import signal
import webbrowser

import click

from spinefit.cli import output
from spinefit.cli.house import house_of, takes_house
from spinefit.errors import FieldError, JobError

_MOST_PORTS = 65535


@click.command()
@click.argument("file", metavar="[FILE.toml]", nargs=-1)
@click.option("--port", metavar="N", help="Where it is served; 0 for any that is free. [8377]")
@click.option("--no-open", is_flag=True, help="Do not open the browser.")
@click.option(
    "--new-address", is_flag=True,
    help="Change the secret in the address: what was opened with the old one is turned away.",
)  # fmt: skip
@takes_house
def page(
    file: tuple[str, ...],
    port: str | None,
    no_open: bool,
    new_address: bool,
    house_file: str | None,
    no_house: bool,
) -> int:
    """Do the whole job in a browser: the book, the words, the answer, and what to print.

    It is served on this machine alone and needs no network; the browser keeps what is typed.
    FILE.toml is a job file to begin with. Ctrl-C ends it.
    """
    if len(file) > 1:
        raise FieldError("more than one job file", value=file[1], where="FILE", remedy="give one")
    number = None if port is None else _port(port)
    opened = _opened(file[0]) if file else None
    from spinefit.page.secret import kept_secret
    from spinefit.page.server import PORT, PageServer

    server = PageServer(
        kept_secret(renewed=new_address), PORT if number is None else number,
        opened=opened, house=house_of(house_file, ignored=no_house),
    )  # fmt: skip

    def ready() -> None:
        output.write_text(f"{server.address}\n")
        if not no_open:
            webbrowser.open(server.address)

    for asked in (signal.SIGINT, signal.SIGTERM):  # the server hears of them, and gives them back
        signal.signal(asked, lambda *_: None)
    server.run(ready)
    return 0


def _port(typed: str) -> int:
    plain = typed.strip()
    found = int(plain) if plain.isascii() and plain.isdecimal() and len(plain) <= 5 else -1
    if not 0 <= found <= _MOST_PORTS:
        raise FieldError("no such port", value=typed, where="--port", remedy="give 0 to 65535")
    return found


def _opened(path: str) -> tuple[str, str, dict[str, bytes]]:
    """A job file with the files that lie beside it and are named in it.

    Raises:
        SpinefitError: it cannot be read, or is no job file.
    """
    from spinefit.job.files import opened
    from spinefit.job.read import files_named, read_job_tables

    tables = read_job_tables(path)
    beside: dict[str, bytes] = {}
    with opened(path) as file:
        text = file.read().decode("utf-8-sig")
    for named in files_named((tables.values, *tables.texts, *tables.volumes)):
        if not os.path.isfile(named):
            continue  # the page asks for it
        try:
            with open(named, "rb") as data:
                beside[os.path.basename(named)] = data.read()
        except OSError as fault:
            raise JobError(
                f"a file of the job cannot be read ({fault.strerror})", value=named, where=path
            ) from None
    return os.path.basename(path), text, beside
