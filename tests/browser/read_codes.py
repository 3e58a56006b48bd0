"""Prints what the QR codes in a picture or a PDF say, a line each, as zxing-cpp reads them."""

import sys

import pypdfium2
import zxingcpp
from PIL import Image

DPI = 300


def pictures(path):
    if path.endswith(".pdf"):
        for page in pypdfium2.PdfDocument(path):
            yield page.render(scale=DPI / 72).to_pil().convert("L")
    else:
        yield Image.open(path).convert("L")


for picture in pictures(sys.argv[1]):
    for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode):
        print(code.text)
