"""The PDF read back with four other programs."""

import hashlib
import io
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pdfplumber
import pikepdf
import pypdfium2
import pytest
import resvg_py
from PIL import Image, ImageFilter

from elevation import fonts, output
from elevation.drawing.marks import Page
from elevation.errors import OutputError
from elevation.output import pdf, surface
from elevation.output.svg import page_svg

from .conftest import NASTY, need, run, sample_page

MM = 72 / 25.4


def made(*pages: Page, title: str = "Guest bath", date: str | None = None) -> bytes:
    return pdf.pages_pdf(pages, title, date)


def test_lengths_and_paper() -> None:
    with pdfplumber.open(io.BytesIO(made(sample_page()))) as document:
        page = document.pages[0]
        assert (page.width, page.height) == (1224, 792)
        spans = {(round(row["x1"] - row["x0"], 6), round(row["y1"] - row["y0"], 6)) for row in page.lines}
        found = [(w / MM, h / MM) for w, h in spans]
    for wanted in ((100.0, 0.0), (0.0, 101.6), (200.0, 0.0), (10.0, 10.0)):
        assert any(abs(w - wanted[0]) < 0.003 and abs(h - wanted[1]) < 0.003 for w, h in found), wanted


def test_text_stands_where_the_layout_thinks() -> None:
    with pdfplumber.open(io.BytesIO(made(sample_page()))) as document:
        letters = [c for c in document.pages[0].chars if c["upright"] and abs(c["size"] / MM - 7 / 0.656) < 0.01]
    assert "".join(c["text"] for c in letters) == "AVAVA To 1234"
    assert max(c["x1"] for c in letters) / MM == pytest.approx(250, abs=0.003)
    assert min(c["x0"] for c in letters) / MM == pytest.approx(250 - fonts.text_width("AVAVA To 1234", 7), abs=0.003)


def test_search_finds_what_is_printed(tmp_path: Path) -> None:
    file = tmp_path / "set.pdf"
    file.write_bytes(made(sample_page()))
    text = run(need("pdftotext"), file, "-")
    for words in ("BACK WALL fi fl", "4'-6 7/16\"", "B4-1 turned", "AVAVA To 1234"):
        assert words in text


def test_fonts_are_embedded_and_the_file_is_sound(tmp_path: Path) -> None:
    file = tmp_path / "set.pdf"
    file.write_bytes(made(sample_page(), sample_page("cuts")))
    rows = run(need("pdffonts"), file).splitlines()[2:]
    assert rows
    assert all("SourceSans3" in row and row.split()[-5:-2] == ["yes", "yes", "yes"] for row in rows)
    run(need("qpdf"), "--check", file)


def test_bookmarks_labels_title() -> None:
    data = made(sample_page(title="Wall B"), sample_page("cuts", title=NASTY), title="Bath & more 漢")
    with pikepdf.open(io.BytesIO(data)) as document:
        assert str(document.docinfo["/Title"]) == "Bath & more 漢"
        assert [page.label for page in document.pages] == ["1 elevation B", "2 cuts B"]
        with document.open_outline() as outline:
            titles = [item.title for item in outline.root]
        assert titles[0] == "1  Wall B"
        assert "<script>" in titles[1]
        assert document.Root.Lang == "en"


def test_full_size_pages_ask_not_to_be_scaled() -> None:
    with pikepdf.open(io.BytesIO(made(sample_page("templates", full_size=True)))) as document:
        assert document.Root.ViewerPreferences.PrintScaling == "/None"
    with pikepdf.open(io.BytesIO(made(sample_page()))) as document:
        assert "/PrintScaling" not in document.Root.ViewerPreferences


def test_no_clock() -> None:
    with pikepdf.open(io.BytesIO(made(sample_page()))) as document:
        assert "/CreationDate" not in document.docinfo
        assert "/ModDate" not in document.docinfo
    with pikepdf.open(io.BytesIO(made(sample_page(), date="2031-02-03"))) as document:
        assert str(document.docinfo["/CreationDate"]) == "D:20310203000000Z"


def test_same_bytes_in_two_runs_and_two_processes() -> None:
    here = Path(__file__).parent
    code = (
        "import hashlib, importlib.util, sys\n"
        f"spec = importlib.util.spec_from_file_location('conf', {str(here / 'conftest.py')!r})\n"
        "conf = importlib.util.module_from_spec(spec); spec.loader.exec_module(conf)\n"
        "from elevation.output import pdf, svg\n"
        "p = conf.sample_page()\n"
        "sys.stdout.write(hashlib.sha256(pdf.pages_pdf([p], 'Guest bath')).hexdigest())\n"
    )
    root = here.parents[1]
    env = {**os.environ, "PYTHONPATH": str(root), "PYTHONHASHSEED": "7"}
    other = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True, env=env, cwd=root)
    first, second = made(sample_page()), made(sample_page())
    assert first == second
    assert other.stdout == hashlib.sha256(first).hexdigest()


def _pictures(page: Page) -> tuple[Image.Image, Image.Image]:
    """Return the page at 150 dpi from the PDF by one renderer and from the SVG by another, in grey, equal sizes."""
    document = pypdfium2.PdfDocument(made(page))
    one = document[0].render(scale=150 / 72).to_pil().convert("L")
    document.close()
    png = resvg_py.svg_to_bytes(
        svg_string=page_svg(page).decode(), dpi=96, zoom=150 / 96, background="#ffffff", skip_system_fonts=True,
        font_dirs=[str(fonts.font_folder())],
    )  # fmt: skip
    two = Image.open(io.BytesIO(bytes(png))).convert("L")
    size = (min(one.width, two.width), min(one.height, two.height))
    return one.crop((0, 0, *size)), two.crop((0, 0, *size))


def _stray_ink(a: Image.Image, b: Image.Image) -> int:
    """Return how many dark pixels of either picture have none of the other within one pixel."""

    def ink(image: Image.Image) -> Image.Image:
        return image.point(lambda v: 255 if v < 160 else 0)

    def stray(one: Image.Image, two: Image.Image) -> int:
        near = np.asarray(ink(two).filter(ImageFilter.MaxFilter(3))) > 0
        return int(((np.asarray(ink(one)) > 0) & ~near).sum())

    return max(stray(a, b), stray(b, a))


def test_two_renderers_see_the_same_picture() -> None:
    pdf_picture, svg_picture = _pictures(sample_page())
    assert _stray_ink(pdf_picture, svg_picture) <= 60
    fewer = sample_page()
    without = Page(fewer.kind, fewer.id, fewer.title, fewer.width, fewer.height, fewer.marks[:-1])
    assert _stray_ink(pdf_picture, _pictures(without)[1]) > 60, "the comparison must be able to fail"


def test_nothing_is_left_behind(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    monkeypatch.setenv("FONTCONFIG_FILE", "/the/users/own.conf")
    surface.has_bundled_font.cache_clear()
    assert surface.has_bundled_font()
    made(sample_page())
    assert list(tmp_path.iterdir()) == []
    assert os.environ["FONTCONFIG_FILE"] == "/the/users/own.conf"


def test_outlined_letters_look_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    live = _pictures(sample_page())[0]
    monkeypatch.setattr(surface, "has_bundled_font", lambda: False)
    assert _stray_ink(live, _pictures(sample_page())[0]) <= 60


def test_without_the_cairo_library(monkeypatch: pytest.MonkeyPatch) -> None:
    class Missing:
        def find_spec(self, name: str, path: object = None, target: object = None) -> None:
            if name == "elevation.output.surface":
                raise OSError('no library called "cairo-2" was found')

    for module in ("surface", "document"):
        monkeypatch.delitem(sys.modules, f"elevation.output.{module}")
        monkeypatch.delattr(output, module)
    monkeypatch.setattr(sys, "meta_path", [Missing(), *sys.meta_path])
    with pytest.raises(OutputError, match="sudo apt-get install libcairo2") as caught:
        made(sample_page())
    assert caught.value.exit_code == 3


def test_a_set_needs_a_page() -> None:
    with pytest.raises(ValueError, match="at least one page"):
        pdf.pages_pdf([], "t")
