"""Boards as a glTF 2.0 binary file (.glb), in metres with y up, as that format wants it."""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.geometry.frame import Point3

_FLOAT, _UINT = 5126, 5125
_VERTICES, _INDICES = 34962, 34963
_JSON_CHUNK, _BINARY_CHUNK = 0x4E4F534A, 0x004E4942
"""Numbers of the format's own tables. Source: glTF 2.0 specification, recalled."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """One thing to show.

    Args:
        name: shown when it is picked, for example a part number.
        vertices: corners in the room frame. [mm]
        triangles: three corner numbers each, counter-clockwise seen from outside.
        colour: red, green, blue, 0 to 1, linear.
    """

    name: str
    vertices: Sequence[Point3]
    triangles: Sequence[tuple[int, int, int]]
    colour: tuple[float, float, float] = (0.8, 0.72, 0.58)


def glb(solids: Sequence[Solid]) -> bytes:
    """Return the solids as one binary glTF file; the same solids give the same bytes.

    Args:
        solids: what to write, in order; each becomes a node of its own.

    Returns:
        The file. Normals are left out, which asks viewers to shade each triangle flat.
    """
    binary = bytearray()
    views: list[dict[str, int]] = []
    accessors: list[dict[str, object]] = []
    meshes: list[dict[str, object]] = []
    colours = sorted({solid.colour for solid in solids})
    for solid in solids:
        points = [(x / 1000, z / 1000, -y / 1000) for x, y, z in solid.vertices]
        packed = b"".join(struct.pack("<3f", *point) for point in points)
        rounded = [struct.unpack_from("<3f", packed, 12 * i) for i in range(len(points))]
        position = _add(binary, views, accessors, packed, _VERTICES, _FLOAT, len(points), "VEC3")
        accessors[position]["min"] = [min(point[axis] for point in rounded) for axis in range(3)]
        accessors[position]["max"] = [max(point[axis] for point in rounded) for axis in range(3)]
        corners = [corner for triangle in solid.triangles for corner in triangle]
        packed = struct.pack(f"<{len(corners)}I", *corners)
        index = _add(binary, views, accessors, packed, _INDICES, _UINT, len(corners), "SCALAR")
        meshes.append({
            "name": solid.name,
            "primitives": [{
                "attributes": {"POSITION": position}, "indices": index, "material": colours.index(solid.colour),
            }],
        })  # fmt: skip
    document = {
        "asset": {"version": "2.0", "generator": "nookwright"},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(solids)))}],
        "nodes": [{"name": solid.name, "mesh": i} for i, solid in enumerate(solids)],
        "meshes": meshes,
        "materials": [_material(colour) for colour in colours],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(binary)}],
    }
    if not solids:
        document = {"asset": document["asset"], "scene": 0, "scenes": [{}]}
    text = json.dumps(document, separators=(",", ":"), ensure_ascii=False).encode("utf-8")
    chunks = _chunk(_JSON_CHUNK, text, b" ") + (_chunk(_BINARY_CHUNK, bytes(binary), b"\0") if solids else b"")
    return b"glTF" + struct.pack("<II", 2, 12 + len(chunks)) + chunks


def _add(
    binary: bytearray,
    views: list[dict[str, int]],
    accessors: list[dict[str, object]],
    packed: bytes,
    target: int,
    component: int,
    count: int,
    kind: str,
) -> int:
    """Append one array to the binary part and return its accessor's number; all our arrays keep 4-byte steps."""
    views.append({"buffer": 0, "byteOffset": len(binary), "byteLength": len(packed), "target": target})
    accessors.append({"bufferView": len(views) - 1, "componentType": component, "count": count, "type": kind})
    binary.extend(packed)
    return len(accessors) - 1


def _material(colour: tuple[float, float, float]) -> dict[str, object]:
    return {
        "pbrMetallicRoughness": {"baseColorFactor": [*colour, 1.0], "metallicFactor": 0.0, "roughnessFactor": 0.9},
    }


def _chunk(kind: int, content: bytes, padding: bytes) -> bytes:
    """Return one chunk, padded to a whole number of 4 bytes."""
    padded = content + padding * (-len(content) % 4)
    return struct.pack("<II", len(padded), kind) + padded
