"""QR codes of ISO/IEC 18004 for tags: error correction H, four modules quiet zone."""

import base64

QUIET_ZONE_MODULES = 4
LEAST_MM = 15
USUAL_MM = 20
ALPHANUMERIC = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")


def tag_link(base_url: str, code: str, number: str) -> str:
    """Spell the link in a tag: in capitals where that gives a smaller symbol.

    Scheme and host are the same in either case, and the site takes the rest in
    either case too. The number stands in the link in plain, so that a tag can be
    read when the address is long gone.

    >>> tag_link("http://shop.example:8000", "ABC", "2026-001")
    'HTTP://SHOP.EXAMPLE:8000/T/ABC/2026-001'
    """
    link = f"{base_url.rstrip('/')}/t/{code}/{number}"
    capitals = link.upper()
    return capitals if ALPHANUMERIC.issuperset(capitals) else link


def qr_svg(text: str, size_mm: float = USUAL_MM) -> str:
    """Draw a text as a QR code, quiet zone included in the size.

    Parameters
    ----------
    text : str
        What a scan gives.
    size_mm : float
        Side of the symbol without its quiet zone, at least 15 mm [mm].

    Returns
    -------
    str
        An SVG element with its size in millimetres.

    Raises
    ------
    ValueError
        When the symbol would be smaller than 15 mm.
    """
    import qrcode  # noqa: PLC0415 - kept out of the page path
    from qrcode.constants import ERROR_CORRECT_H  # noqa: PLC0415

    if size_mm < LEAST_MM:
        raise ValueError(f"a tag of {size_mm:g} mm is smaller than {LEAST_MM} mm")
    code = qrcode.QRCode(error_correction=ERROR_CORRECT_H, border=QUIET_ZONE_MODULES)
    code.add_data(text)
    code.make(fit=True)
    return _drawn(code.get_matrix(), size_mm)


def qr_data_uri(text: str, size_mm: float = USUAL_MM) -> str:
    """Draw a text as a QR code for the `src` of an image."""
    svg = base64.b64encode(qr_svg(text, size_mm).encode()).decode()
    return f"data:image/svg+xml;base64,{svg}"


def _drawn(matrix: list[list[bool]], size_mm: float) -> str:
    modules = len(matrix)
    side = size_mm * modules / (modules - 2 * QUIET_ZONE_MODULES)
    squares = "".join(
        f"M{x} {y}h1v1h-1z"
        for y, row in enumerate(matrix)
        for x, dark in enumerate(row)
        if dark
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{side:.3f}mm" '
        f'height="{side:.3f}mm" viewBox="0 0 {modules} {modules}" '
        f'shape-rendering="crispEdges"><rect width="{modules}" height="{modules}" '
        f'fill="#fff"/><path d="{squares}" fill="#000"/></svg>'
    )
