"""Reads what Tapemark hands over with the libraries of those formats, and prints as JSON what they make of it.

The folder that is its argument holds cut.otio, day.ics, framing.fdl, and tables that end in .csv. The framing is checked by
its own library as it is read; beside each decision is what that library works out from the intent by itself.

Needs Python 3.11 or later with opentimelineio==0.18.1, icalendar==7.3.2 and asc-fdl==1.0.2, which `cargo xtask test` installs.
"""

import csv
import json
import pathlib
import sys
import urllib.parse

import fdl
import icalendar
import opentimelineio


def facts(metadata):
    """What Tapemark tells of it, as plain values: the library's own last only as long as what they are of."""
    return plain(metadata.get("tapemark", {}))


def plain(told):
    return {name: plain(one) for name, one in told.items()} if hasattr(told, "items") else told


def media(reference):
    return {
        "is_missing": reference.is_missing_reference,
        "name": reference.name,
        "address": None if reference.is_missing_reference else reference.target_url,
        "path": None if reference.is_missing_reference else urllib.parse.unquote(reference.target_url),
        "facts": facts(reference.metadata),
    }


def timeline(file):
    read = opentimelineio.adapters.read_from_file(str(file))
    track = read.video_tracks()[0]
    return {
        "name": read.name,
        "rate": track.duration().rate,
        "frames": track.duration().value,
        "clips": [
            {
                "name": clip.name,
                "from": clip.source_range.start_time.value,
                "frames": clip.duration().value,
                "starts": clip.range_in_parent().start_time.value,
                "available": clip.available_range().duration.value if clip.media_reference.available_range else None,
                "active": clip.active_media_reference_key,
                "shown": media(clip.media_reference),
                "media": {key: media(one) for key, one in clip.media_references().items()},
                "facts": facts(clip.metadata),
                "markers": [
                    {
                        "comment": marker.comment,
                        "rule": marker.metadata["tapemark"]["rule"],
                    }
                    for marker in clip.markers
                ],
            }
            for clip in track.find_clips()
        ],
    }


def calendar(file):
    read = icalendar.Calendar.from_ical(file.read_bytes())

    def text(event, name):
        return str(event[name]) if name in event else ""

    def moment(event, name):
        return event.decoded(name).isoformat() if name in event else ""

    events = [
        {
            "uid": text(event, "UID"),
            "summary": text(event, "SUMMARY"),
            "description": text(event, "DESCRIPTION"),
            "starts": moment(event, "DTSTART"),
            "ends": moment(event, "DTEND"),
            "stamp": moment(event, "DTSTAMP"),
        }
        for event in read.walk("VEVENT")
    ]
    return {"errors": [str(error) for event in read.walk() for error in event.errors], "events": events}


def framing(file):
    read = fdl.read_from_file(str(file))  # checks it against the schema and its own rules
    intents = {intent.id: intent for intent in read.framing_intents}
    whole = fdl.RoundStrategy(even=fdl.RoundingEven.WHOLE, mode=fdl.RoundingMode.ROUND)

    def size(dimensions):
        return [dimensions.width, dimensions.height]

    def decided(canvas, decision):
        intent = intents[decision.framing_intent_id]
        pixels = fdl.DimensionsFloat(width=canvas.dimensions.width, height=canvas.dimensions.height)
        worked_out = fdl.compute_framing_from_intent(
            pixels, pixels, canvas.anamorphic_squeeze, intent.aspect_ratio, 0.0, whole
        )
        return {
            "size": size(decision.dimensions),
            "anchor": [decision.anchor_point.x, decision.anchor_point.y],
            "worked_out": size(worked_out.dimensions),
            "worked_out_anchor": [worked_out.anchor_point.x, worked_out.anchor_point.y],
        }

    return {
        "uuid": read.uuid,
        "default_intent": read.default_framing_intent,
        "intents": list(intents),
        "contexts": [
            {
                "label": context.label,
                "canvases": [
                    {
                        "size": size(canvas.dimensions),
                        "squeeze": canvas.anamorphic_squeeze,
                        "decisions": [decided(canvas, one) for one in canvas.framing_decisions],
                    }
                    for canvas in context.canvases
                ],
            }
            for context in read.contexts
        ],
    }


def table(file):
    with file.open(newline="", encoding="utf-8") as text:
        return list(csv.reader(text, strict=True))


def main():
    folder = pathlib.Path(sys.argv[1])
    tables = {file.stem: table(file) for file in sorted(folder.glob("*.csv"))}
    read = {
        "otio": timeline(folder / "cut.otio"),
        "ics": calendar(folder / "day.ics"),
        "fdl": framing(folder / "framing.fdl"),
        "csv": tables,
    }
    json.dump(read, sys.stdout)


main()
