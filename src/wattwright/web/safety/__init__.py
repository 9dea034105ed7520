"""What keeps strangers, pages from elsewhere and broken uploads out of the workbench.

    settings    what is served to whom, and all limits
    devices     the devices that were let in, in a file; codes: the code shown to let one in
    guard       around the application: size, host, who asks, from where, token, body, answer
    visit       who asks; the token of forms; giving a device its cookie
    links       addresses and square codes to let a device in
    serving     how the server runs

    app = guarded(Starlette(routes=...), Settings(devices=Devices(), port=8437))

It stands outside the whole application, so that nothing in it can be reached around it, and so that
a failure anywhere in it becomes a plain page. Plain http on the local network hides nothing from
someone who listens there: it is for a network of one's own.
"""

from wattwright.web.safety.codes import Code, Codes, PairingError, TooSoonError
from wattwright.web.safety.devices import Device, Devices, DevicesError
from wattwright.web.safety.guard import Guard, guarded
from wattwright.web.safety.links import guest_url, pairing_url, square_code
from wattwright.web.safety.refusal import RefusedError, TroubleOut
from wattwright.web.safety.settings import Limits, Settings
from wattwright.web.safety.visit import (
    Role,
    Visit,
    host_only,
    let_in,
    let_out,
    role,
    token_for,
    visit_of,
)

__all__ = [
    "Code",
    "Codes",
    "Device",
    "Devices",
    "DevicesError",
    "Guard",
    "Limits",
    "PairingError",
    "RefusedError",
    "Role",
    "Settings",
    "TooSoonError",
    "TroubleOut",
    "Visit",
    "guarded",
    "guest_url",
    "host_only",
    "let_in",
    "let_out",
    "pairing_url",
    "role",
    "square_code",
    "token_for",
    "visit_of",
]
