"""The library's surface serves an engine for data that is not ours.

dask.bag reads rows, two local processes check them, and pyarrow writes and reads the Parquet.
"""

from __future__ import annotations

import csv

import dask
import dask.bag
import pyarrow
import pyarrow.parquet

from spinefit import check_row

BOOKS = [
    ("W 1", "The Harbour Light", "9mm", "210"),
    ("W 2", "Tide Tables", "12mm", "200"),
    ("W 3", "Northern Roads", "wide", "200"),
    ("W 4", "The Wreck Register of the Northern Coast", "5", "20"),
]


def test_dask_maps_check_row_and_writes_parquet(tmp_path) -> None:
    """As a catalogue of any size would be checked: rows in, Parquet out."""
    table = tmp_path / "books.csv"
    with table.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["shelfmark", "title", "width", "height"])
        writer.writerows(BOOKS)
    with table.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))

    bag = dask.bag.from_sequence(rows, npartitions=2).map(check_row)
    with dask.config.set(scheduler="processes", num_workers=2):
        found = bag.compute()
    pyarrow.parquet.write_table(pyarrow.Table.from_pylist(found), tmp_path / "books.parquet")

    read = pyarrow.parquet.read_table(tmp_path / "books.parquet")
    assert read.to_pylist() == [check_row(row) for row in rows] == found
    assert read.column("shelfmark").to_pylist() == [book[0] for book in BOOKS]
    assert read.column("verdict").to_pylist() == ["fits", "fits", "", "does not fit"]
    assert read.schema.field("largest_pt").type == pyarrow.float64()
