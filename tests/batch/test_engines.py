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


def test_a_column_of_parquet_may_have_gaps(tmp_path) -> None:
    """Whole numbers, texts and measures with nothing in some rows, and a column of ours."""
    books = {
        "title": ["The Harbour Light", "Tide Tables", "Northern Roads"],
        "width": pyarrow.array([9.2, 12, 30], pyarrow.float32()),
        "height": [210, 200, None],
        "volume": pyarrow.array([None, 2, None], pyarrow.int8()),
        "lines": pyarrow.array([1.0, None, 2.0]),
        "price": [4.5, None, 6.0],
    }
    pyarrow.parquet.write_table(pyarrow.table(books), tmp_path / "books.parquet")
    rows = pyarrow.parquet.read_table(tmp_path / "books.parquet").to_pylist()

    found = [check_row(row, keep=["price"]) for row in rows]
    assert [row["error"] for row in found] == [""] * 3
    assert [row["price"] for row in found] == books["price"]
    said = {"title": "The Harbour Light", "width": "9.2", "height": 210, "lines": 1}
    plain = check_row(said | {"volume": None})
    assert found[0] == {"price": 4.5} | plain
    assert found[2]["lines"].count(" / ") == 1
