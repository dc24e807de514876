"""A call number is broken by the marks of its scheme.

Standing: class, Cutters, year and volume each on a line, Dewey's whole number together and long
decimals after threes, are common practice; the numbers are invented, of no library's shelves.
"""

from __future__ import annotations

import pytest

from spinefit.errors import FieldError
from spinefit.job import Job, Spine, resolve
from spinefit.job.call_number import scheme_of
from spinefit.job.model import Lettering
from spinefit.job.places import CallNumber, Scheme
from spinefit.vocabulary import Orientation, Role


def broken(text, scheme=None, **said):
    call = CallNumber(scheme=scheme)
    job = Job(title=text, role=Role.CALL_NUMBER, spine=Spine(width_mm=40, height_mm=220), **said)
    return resolve(Job(**{**vars_of(job), "call_number": call})).title_lines


def vars_of(job):
    return {name: getattr(job, name) for name in type(job).__slots__}


DEWEY = {
    # three decimals at most stand with the whole number
    "823": ("823",),
    "823.912": ("823.912",),
    "823.10": ("823.10",),
    # more are broken after threes, a letter that follows them staying with the last
    "823.9124": ("823.912", "4"),
    "641.5945082": ("641.594", "508", "2"),
    # book mark, year and volume each have a line; a collection's mark stands above the class
    "823.912 QUI": ("823.912", "QUI"),
    "823.912 Q47h 1907": ("823.912", "Q47h", "1907"),
    "REF 910.4 TRE v.2": ("REF", "910.4", "TRE", "v.2"),
    "J 398.2 PEL": ("J", "398.2", "PEL"),
    "R 823.912 Q47": ("R", "823.912", "Q47"),
    # what counts a volume stays with its figure
    "623.89 TRE vol. 2": ("623.89", "TRE", "vol. 2"),
    "623.89 TRE Bd. 12 copy 2": ("623.89", "TRE", "Bd. 12", "copy 2"),
    "050 ANN 1848-1870": ("050", "ANN", "1848-1870"),
    # a break that was typed is kept, whatever the scheme
    "823 / .912 QUI": ("823", ".912", "QUI"),
}
LC = {
    "PR6045.O72": ("PR", "6045", ".O72"),
    "PR6045 .O72 Z8 1953": ("PR", "6045", ".O72", "Z8", "1953"),
    "PR6045.O72Z8 1953 v.2": ("PR", "6045", ".O72", "Z8", "1953", "v.2"),
    "PR 6045 .O72": ("PR", "6045", ".O72"),
    "QA76.73.P98 V35 2009": ("QA", "76.73", ".P98", "V35", "2009"),
    "Z269 .T7": ("Z", "269", ".T7"),
    "VK 1023.W7 no. 3": ("VK", "1023", ".W7", "no. 3"),
    "DA670 .C8x 1931b": ("DA", "670", ".C8x", "1931b"),
}


@pytest.mark.parametrize(("text", "lines"), DEWEY.items())
def test_a_dewey_number_is_known_by_its_form_and_broken_by_its_marks(text, lines):
    assert scheme_of(text.replace(" / ", " ")) is Scheme.DEWEY
    assert broken(text) == broken(text, Scheme.DEWEY) == lines


@pytest.mark.parametrize(("text", "lines"), LC.items())
def test_a_number_of_the_library_of_congress_has_a_line_for_class_number_and_cutters(text, lines):
    assert scheme_of(text) is Scheme.LC
    assert broken(text) == broken(text, Scheme.LC) == lines


@pytest.mark.parametrize(
    ("text", "lines"),
    [("FIC QUI", ("FIC", "QUI")), ("Wr 12 / Q", ("Wr", "12", "Q")), ("H.4.17", ("H.4.17",))],
)
def test_a_number_of_no_known_form_is_broken_at_its_spaces(text, lines):
    assert broken(text) == lines


def test_as_typed_only_typed_breaks_count_even_where_titles_have_none():
    assert broken("823.9124 QUI / 1907", Scheme.AS_TYPED) == ("823.9124 QUI", "1907")
    assert broken("823.9124 / QUI", slash_breaks=False) == ("823.912", "4", "QUI")


def test_what_looks_like_both_schemes_is_the_one_that_was_said():
    assert broken("PS 354 W3") == ("PS", "354", "W3")
    assert broken("PS 354.9124 W3", Scheme.DEWEY) == ("PS", "354.912", "4", "W3")
    assert broken("PS 354.9124 W3", Scheme.LC) == ("PS", "354.9124", "W3")


def test_along_the_back_it_stands_in_one_line():
    along = Lettering(orientation=Orientation.LONGITUDINAL)
    assert broken("823.9124 QUI 1907", lettering=along) == ("823.9124 QUI 1907",)


def test_a_place_beyond_the_back_is_refused():
    call = CallNumber(from_tail_mm=230.0)
    job = Job(
        title="823 Q",
        role=Role.CALL_NUMBER,
        call_number=call,
        spine=Spine(width_mm=30, height_mm=220),
    )
    with pytest.raises(FieldError, match="beyond the head of the back"):
        resolve(job)
