#!/usr/bin/env python3
"""Draws the pictures of the printed papers anew: docs/pictures/*-papers.png, sheets of papers.pdf side by side, in grey.

    docs/pictures/make.py [FOLDER]      needs a built program (BOARDRING, or build/tests) and poppler-utils; Debian has both
"""
import os
import pathlib
import re
import struct
import subprocess
import sys
import tempfile
import zlib

SOURCE = pathlib.Path(__file__).resolve().parents[2]
BOARDRING = os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring"))
DPI = 64
GAP = 8  # pixels between sheets
# The demo, and how the sheets begin that are shown.
SHOWN = {
    "courtyard-planter": ("The frame", "Boards 3 and 5", "At the saw", "Putting it together"),
    "stair-window": ("Stair window", "Boards 1 to 8", "What was cut", "Angles at full size"),
}


def sheets(pdf):
    """[(first words of the page, its grey rows)]"""
    texts = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True).stdout.split("\f")
    found = []
    for number, text in enumerate(texts[:-1], 1):
        raw = subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", "-f", str(number), "-l", str(number), str(pdf)], capture_output=True, check=True).stdout
        head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", raw)
        width, pixels = int(head.group(1)), raw[head.end():]
        found.append((text.strip(), [pixels[at:at + width] for at in range(0, len(pixels), width)]))
    return found


def side_by_side(pages):
    high = max(len(page) for page in pages)
    rows = [b""] * high
    for n, page in enumerate(pages):
        blank = b"\xff" * len(page[0])
        between = b"\xa0" * GAP if n else b""
        rows = [row + between + (page[y] if y < len(page) else blank) for y, row in enumerate(rows)]
    return rows


def png(rows):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    # Sixteen greys are enough for lines and letters, and half the size.
    packed = b""
    for row in rows:
        row = row + b"\xff" * (len(row) % 2)
        packed += b"\0" + bytes((a & 0xf0) | (b >> 4) for a, b in zip(row[::2], row[1::2]))
    size = struct.pack(">IIBBBBB", len(rows[0]) + len(rows[0]) % 2, len(rows), 4, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", size) + chunk(b"IDAT", zlib.compress(packed, 9)) + chunk(b"IEND", b"")


def draw(demo, folder):
    with tempfile.TemporaryDirectory() as out:
        subprocess.run([BOARDRING, "papers", f"projects/{demo}", "--out", out], cwd=SOURCE, capture_output=True, check=True)
        pages = sheets(pathlib.Path(out, "papers.pdf")) + sheets(pathlib.Path(out, "full-size.pdf"))
    chosen = [next(rows for text, rows in pages if text.startswith(start)) for start in SHOWN[demo]]
    path = folder / f"{demo}-papers.png"
    path.write_bytes(png(side_by_side(chosen)))
    return path


if __name__ == "__main__":
    to = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else SOURCE / "docs/pictures"
    for name in SHOWN:
        print(draw(name, to))
