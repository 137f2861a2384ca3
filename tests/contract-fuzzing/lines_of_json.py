"""Newline-delimited JSON for schemathesis: one value as a body of one line, and the first line of an answer."""

import json

import schemathesis

MEDIA_TYPE = "application/x-ndjson"


@schemathesis.serializer(MEDIA_TYPE)
def as_line(_context, value):
    return json.dumps(value, ensure_ascii=False).encode() + b"\n"


@schemathesis.deserializer(MEDIA_TYPE)
def first_line(_context, response):
    return json.loads(response.content.split(b"\n", 1)[0])
