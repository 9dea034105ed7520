"""The addresses that let a device in, and the square codes that a camera reads them from."""

from __future__ import annotations

import segno

from wattwright.web.safety.settings import Settings


def pairing_url(settings: Settings, code: str) -> str:
    """Return the address of the pairing page with the code filled in."""
    return f"{_base(settings)}{settings.pairing}?code={code}"


def guest_url(settings: Settings, link: str) -> str:
    """Return the address that a guest opens, from what ``Devices.invite`` returned."""
    return f"{_base(settings)}{settings.guests}/{link}"


def _base(settings: Settings) -> str:
    """Return the address of this machine as others reach it, else as it reaches itself."""
    address = settings.addresses[0] if settings.lan and settings.addresses else "127.0.0.1"
    host = f"[{address}]" if ":" in address else address
    return f"http://{host}:{settings.port}"


def square_code(url: str) -> str:
    """Draw an address as a QR code (ISO/IEC 18004), black on white with its quiet margin, as SVG.

    It stands in a page as it is: no styles, no scripts, nothing fetched. Its size is the page's.
    """
    return segno.make_qr(url, error="m").svg_inline(
        border=4, omitsize=True, svgclass="square-code", lineclass=None, light="#fff"
    )
