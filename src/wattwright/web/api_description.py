"""The OpenAPI description of the API, from the classes of its answers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import models_json_schema

from wattwright import __version__
from wattwright.output import CheckOut, ExplainOut, FieldsOut, FindingsOut, HistoryOut
from wattwright.units import TASTES
from wattwright.web.api import (
    LISTED,
    MOST_LISTED,
    MOST_REVISION,
    BuildsOut,
    Changes,
    SavedOut,
)
from wattwright.web.safety import TroubleOut

_PLACE = "#/components/schemas/{model}"
_UNITS = {
    "name": "units",
    "in": "query",
    "required": False,
    "schema": {"type": "string", "enum": list(TASTES), "default": "metric"},
}
_BUILD = {"name": "build", "in": "path", "required": True, "schema": {"type": "string"}}
_ADDRESS = {
    "name": "address",
    "in": "query",
    "required": True,
    "schema": {"type": "string", "maxLength": 400},
    "example": "vehicle.axle_load@rear/full",
}
_BEFORE = {
    "name": "before",
    "in": "query",
    "required": False,
    "description": "only revisions with a lower number; the last of one answer leads to the next",
    "schema": {"type": "integer", "minimum": 1, "maximum": MOST_REVISION},
}
_MOST = {
    "name": "most",
    "in": "query",
    "required": False,
    "schema": {"type": "integer", "minimum": 1, "maximum": MOST_LISTED, "default": LISTED},
}


# Why nothing is done, by the status that says so.
_ANYWHERE = {
    "400": "an address, a header or a body that says no one thing",
    "401": "a device that is not let in",
    "403": "asked by a page of another site, or without the token, or by a guest",
    "414": "an address that is too long",
    "421": "a Host that is none of this server's names",
    "431": "more headers than are taken",
    "500": "a fault of the program; the log of the server tells more at the number",
    "503": "the journal or the build file cannot be used just now; the message says why",
}
_OF_A_BUILD = {
    "404": "there is no such build, finding or figure",
    "422": "a parameter that says nothing known, or a build file that cannot be read",
}
_OF_A_CHANGE = {
    "404": "there is no such build",
    "408": "a body that does not come",
    "409": "somebody else changed the same meanwhile",
    "413": "a body that is too large",
    "422": "a change that cannot be made; problems say what is wrong at which path",
}


# On the machine itself reading needs nothing, and a page of it can change something with its token.
_SECURITY = {
    "key": {
        "type": "http",
        "scheme": "bearer",
        "description": "a key for a program, made on the page Devices; or the key of a paired "
        "device, the value of its cookie",
    },
    "token": {
        "type": "apiKey",
        "in": "header",
        "name": "X-Token",
        "description": "the token of a page, for whoever the page was shown to",
    },
}
_TO_READ: list[dict[str, list[str]]] = [{"key": []}, {}]
_TO_CHANGE: list[dict[str, list[str]]] = [{"key": []}, {"token": []}]


def described() -> dict[str, Any]:
    """Describe every address: what it takes, what it answers."""
    answers: list[type[BaseModel]] = [
        BuildsOut,
        CheckOut,
        ExplainOut,
        FieldsOut,
        FindingsOut,
        HistoryOut,
        SavedOut,
        TroubleOut,
    ]
    _, out = models_json_schema(
        [*((each, "serialization") for each in answers), (Changes, "validation")],
        ref_template=_PLACE,
    )
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "wattwright",
            "version": __version__,
            "description": "One server's builds. It helps a competent person and certifies "
            "nothing. Programs show a key, which is made on the page Devices.",
        },
        "components": {"schemas": out.get("$defs", {}), "securitySchemes": _SECURITY},
        "paths": {
            "/api/builds": {"get": _reads("builds on this server", BuildsOut)},
            "/api/fields": {"get": _reads("fields that a build may have", FieldsOut)},
            "/api/findings": {"get": _reads("what may be stated", FindingsOut)},
            "/api/builds/{build}/check": {
                "get": _reads("everything that is said of a build", CheckOut, _BUILD, _UNITS)
            },
            "/api/builds/{build}/explain": {
                "get": _reads("the working behind one", ExplainOut, _BUILD, _ADDRESS, _UNITS)
            },
            "/api/builds/{build}/history": {
                "get": _reads("revisions", HistoryOut, _BUILD, _BEFORE, _MOST)
            },
            "/api/builds/{build}/edits": {"post": _changes("change values, all or none", True)},
            "/api/builds/{build}/undo": {"post": _changes("take the last change back", False)},
            "/api/builds/{build}/redo": {"post": _changes("make it again", False)},
        },
    }


def _reads(summary: str, answer: type[BaseModel], *parameters: dict[str, Any]) -> dict[str, Any]:
    return {
        "summary": summary,
        "security": _TO_READ,
        "parameters": list(parameters),
        "responses": {
            "200": _body(summary, answer),
            **_troubles(_ANYWHERE | (_OF_A_BUILD if parameters else {})),
        },
    }


def _changes(summary: str, takes: bool) -> dict[str, Any]:
    change: dict[str, Any] = {
        "summary": summary,
        "security": _TO_CHANGE,
        "parameters": [_BUILD, _UNITS],
        "responses": {
            "200": _body(summary, SavedOut),
            **_troubles(_ANYWHERE | _OF_A_CHANGE),
        },
    }
    if takes:
        change["requestBody"] = {
            "required": True,
            "content": {"application/json": {"schema": _reference(Changes)}},
        }
    return change


def _troubles(why: Mapping[str, str]) -> dict[str, Any]:
    return {code: _body(says, TroubleOut) for code, says in sorted(why.items())}


def _body(says: str, answer: type[BaseModel]) -> dict[str, Any]:
    return {
        "description": says,
        "content": {"application/json": {"schema": _reference(answer)}},
    }


def _reference(model: type[BaseModel]) -> dict[str, str]:
    return {"$ref": _PLACE.format(model=model.__name__)}
