"""A look into a form while it passes by: how many fields it has, and its token."""

from __future__ import annotations

from urllib.parse import unquote_plus

from python_multipart.exceptions import FormParserError
from python_multipart.multipart import MultipartParser, QuerystringParser, parse_options_header

from wattwright.web.safety.refusal import RefusedError

FIELD = "token"
_LONGEST_TOKEN = 200


class PassingForm:
    """Counts the fields of a form and keeps its first ``token``.

    It reads with the library that the pages read forms with, so that both see the same fields.
    """

    def __init__(self, content_type: str, most_fields: int) -> None:
        self.token: str | None = None
        self._most = most_fields
        self._fields = 0
        self._name = bytearray()
        self._value = bytearray()
        self._header = bytearray()
        self._parser = self._parser_for(content_type)

    @property
    def may_hold_token(self) -> bool:
        """Tell whether it is a form at all, and its token was not seen yet."""
        return self._parser is not None and self.token is None

    def feed(self, chunk: bytes, *, last: bool) -> None:
        """Look at the next piece of the body."""
        if self._parser is None:
            return
        try:
            self._parser.write(chunk)
            if last:
                self._parser.finalize()
        except FormParserError as error:
            raise RefusedError(400, "the form cannot be read; open the page again") from error

    def _parser_for(self, content_type: str) -> MultipartParser | QuerystringParser | None:
        kind, options = parse_options_header(content_type)
        if options.get(b"charset", b"utf-8").lower() != b"utf-8":
            raise RefusedError(400, "the form is not written in UTF-8; open the page again")
        if kind == b"application/x-www-form-urlencoded":
            return QuerystringParser(
                {
                    "on_field_start": self._begin,
                    "on_field_name": self._in_name,
                    "on_field_data": self._in_value,
                    "on_field_end": self._end_field,
                }
            )
        if kind != b"multipart/form-data":
            return None
        if not (boundary := options.get(b"boundary")):
            raise RefusedError(400, "the form does not say where its parts end")
        return MultipartParser(
            boundary,
            {
                "on_part_begin": self._begin,
                "on_header_field": self._in_header,
                "on_header_value": self._in_header_value,
                "on_header_end": self._end_header,
                "on_part_data": self._in_value,
                "on_part_end": self._end_part,
            },
        )

    def _begin(self) -> None:
        self._fields += 1
        if self._fields > self._most:
            raise RefusedError(413, f"the form has more than {self._most} fields")
        for gathered in (self._name, self._value, self._header):
            gathered.clear()

    def _in_name(self, data: bytes, start: int, end: int) -> None:
        _gather(self._name, data, start, end)

    def _in_value(self, data: bytes, start: int, end: int) -> None:
        _gather(self._value, data, start, end)

    def _in_header(self, data: bytes, start: int, end: int) -> None:
        _gather(self._header, data, start, end)

    def _in_header_value(self, data: bytes, start: int, end: int) -> None:
        if self._header.lower() == b"content-disposition":
            _gather(self._name, data, start, end)

    def _end_header(self) -> None:
        self._header.clear()

    def _end_field(self) -> None:
        self._keep(unquote_plus(self._name.decode("latin-1")), self._value)

    def _end_part(self) -> None:
        _, options = parse_options_header(bytes(self._name))
        if b"filename" not in options:
            self._keep(options.get(b"name", b"").decode("latin-1"), self._value)

    def _keep(self, name: str, value: bytearray) -> None:
        if name == FIELD and self.token is None:
            self.token = unquote_plus(value.decode("latin-1"))


def _gather(into: bytearray, data: bytes, start: int, end: int) -> None:
    """Gather the beginning of something; no token and no name is longer."""
    into += data[start : min(end, start + _LONGEST_TOKEN - len(into))]
