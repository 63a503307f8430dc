# SPDX-License-Identifier: MIT
"""3MF against Python's own zipfile and ElementTree, and against the core specification 1.3 of the 3MF
Consortium and the production extension 1.1: places, parts in other files, and files that attack."""
import io
import pathlib
import struct
import time
import xml.etree.ElementTree as ElementTree
import zipfile

import pytest
import vug

pytestmark = pytest.mark.skipif(not vug.feature("3mf"), reason="built without 3MF")

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
PRODUCTION = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
RELS = """<?xml version="1.0"?><Relationships
 xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="a" Target="/3D/a.model"
 Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>"""
# A corner of a cube of 60 mm: 60^3 / 6 = 36000 mm3.
CORNER = """<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="60" y="0" z="0"/>
<vertex x="0" y="60" z="0"/><vertex x="0" y="0" z="60"/></vertices><triangles>
<triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="0" v2="3" v3="2"/>
<triangle v1="1" v2="2" v3="3"/></triangles></mesh>"""


def model(objects, build, attributes="", head='<?xml version="1.0" encoding="UTF-8"?>'):
    return (f'{head}<model unit="millimeter" xmlns="{CORE}" xmlns:p="{PRODUCTION}" {attributes}><resources>'
            f"{objects}</resources><build>{build}</build></model>")


def archive(text, packing=zipfile.ZIP_DEFLATED, **more):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", packing) as z:
        z.writestr("_rels/.rels", RELS)
        z.writestr("3D/a.model", text)
        for name, other in more.items():
            z.writestr(f"3D/{name}.model", other)
    return out.getvalue()


def load(data):
    return vug.Mesh.load_memory(data, name="made.3mf")


def obj(number, inside, more=""):
    return f'<object id="{number}" {more}>{inside}</object>'


def uses(*numbers):
    return "<components>" + "".join(f'<component objectid="{n}"/>' for n in numbers) + "</components>"


ITEM = '<item objectid="1"/>'


@pytest.mark.parametrize("packing", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
@pytest.mark.parametrize("code", ["utf-8", "utf-16"])
def test_what_is_read(packing, code):
    head = f'<?xml version="1.0" encoding="{code}"?>'
    mesh = load(archive(model(obj(1, CORNER), ITEM, head=head).encode(code), packing))
    assert mesh.measure().volume_mm3 == pytest.approx(36000, rel=1e-12)


def test_objects_in_other_files():
    item = '<item objectid="7" p:path="/3D/b.model" transform="1 0 0 0 1 0 0 0 1 100 0 0"/>'
    other = model(obj(7, '<components><component objectid="1" p:path="/3D/c.model"/></components>'), "")
    mesh = load(archive(model(obj(1, CORNER), ITEM + item, 'requiredextensions="p"'), b=other,
                        c=model(obj(1, CORNER), "")))
    m = mesh.measure()
    assert (m.shells, m.hi_mm[0]) == (2, 160) and m.volume_mm3 == pytest.approx(72000, rel=1e-12)


def test_an_extension_that_is_needed_is_told():
    text = model(obj(1, CORNER), ITEM, 'requiredextensions="q" xmlns:q="http://example.org/lattice"')
    with pytest.warns(vug.VugWarning, match="q"):
        load(archive(text))


def test_wide_archives():
    # Numbers of all ones, and the wide field that has them (APPNOTE 6.3.3, 4.3.14 to 4.3.16, 4.5.3).
    data = bytearray(archive(model(obj(1, CORNER), ITEM)))
    end = data.rindex(b"PK\5\6")
    count, size, start = struct.unpack_from("<HII", data, end + 10)
    rows, at = bytearray(), start
    for _ in range(count):
        row = data[at:at + 46]
        name, extra = struct.unpack_from("<HH", row, 28)
        packed, plain, begin = struct.unpack_from("<II", row, 20) + struct.unpack_from("<I", row, 42)
        field = struct.pack("<HHQQQ", 1, 24, plain, packed, begin)
        struct.pack_into("<II", row, 20, 2**32 - 1, 2**32 - 1)
        struct.pack_into("<I", row, 42, 2**32 - 1)
        struct.pack_into("<H", row, 30, len(field))
        rows += row + data[at + 46:at + 46 + name] + field
        at += 46 + name + extra
    wide = struct.pack("<4sQHHIIQQQQ", b"PK\6\6", 44, 45, 45, 0, 0, count, count, len(rows), start)
    tail = struct.pack("<4sIQI", b"PK\6\7", 0, start + len(rows), 1)
    last = struct.pack("<4sHHHHIIH", b"PK\5\6", 0, 0, 2**16 - 1, 2**16 - 1, 2**32 - 1, 2**32 - 1, 0)
    data[start:] = rows + wide + tail + last
    with zipfile.ZipFile(io.BytesIO(bytes(data))) as z:
        assert z.testzip() is None
    assert load(bytes(data)).measure().volume_mm3 == pytest.approx(36000, rel=1e-12)


def refused(data, words, error=vug.FormatError):
    began = time.process_time()
    with pytest.raises(error, match=words):
        load(data)
    assert time.process_time() - began < 5


def chain(length):
    return model(obj(1, CORNER) + "".join(obj(n, uses(n - 1)) for n in range(2, length + 1)),
                 f'<item objectid="{length}"/>')


def test_components_in_components():
    assert load(archive(chain(60))).measure().volume_mm3 == pytest.approx(36000, rel=1e-12)
    refused(archive(chain(5000)), "deep")
    refused(archive(model(obj(1, uses(2)) + obj(2, uses(1)), ITEM)), "circle")
    refused(archive(model(obj(1, uses(1)), ITEM)), "circle")


def test_what_small_files_grow_to():
    doubled = obj(1, CORNER) + "".join(obj(n, uses(n - 1, n - 1)) for n in range(2, 50))
    refused(archive(model(doubled, '<item objectid="49"/>')), "pieces", vug.LimitError)
    empty = obj(1, "") + "".join(obj(n, uses(n - 1, n - 1)) for n in range(2, 50))
    refused(archive(model(empty, '<item objectid="49"/>')), "pieces", vug.LimitError)
    refused(archive(model(obj(1, CORNER), ITEM * 1000001)), "pieces", vug.LimitError)
    data = pathlib.Path(__file__).parents[3] / "tests" / "data"
    refused((data / "bomb30.3mf").read_bytes(), "pieces", vug.LimitError)


def test_much_out_of_little_can_be_cancelled():
    blanks = model(obj(1, CORNER), ITEM) + " " * 60_000_000
    data = archive(blanks)
    assert len(data) < 100_000
    seen = []

    def stop(fraction, stage):
        seen.append(fraction)
        return len(seen) == 2

    with pytest.raises(vug.CancelledError):
        vug.Mesh.load_memory(data, name="made.3mf", context=vug.Context(progress=stop))
    assert len(seen) == 2


@pytest.mark.parametrize("objects, build, words", [
    (obj(1, CORNER) * 2, ITEM, "two objects"),
    (obj(1, CORNER), '<item objectid="2"/>', "object 2"),
    (obj(1, CORNER), '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"/>', "transform"),
    (obj(1, CORNER), '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0 0 0"/>', "transform"),
    (obj(1, CORNER), '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0 nan"/>', "transform"),
    (obj(1, CORNER), '<item objectid="1" p:path="/3D/none.model"/>', "none.model"),
    (obj(1, CORNER), '<item objectid="-1"/>', "-1"),
    (obj(1, CORNER), '<item objectid="99999999999999999999"/>', "99999"),
    (obj(1, CORNER), "<item/>", "objectid"),
    (obj(1, CORNER.replace('x="60"', 'x="6,0"')), ITEM, "6,0"),
    (obj(1, CORNER.replace('x="60"', 'x="inf"')), ITEM, "inf"),
    (obj(1, CORNER.replace("</mesh>", "")), ITEM, "line"),
])
def test_faults_are_named(objects, build, words):
    refused(archive(model(objects, build)), words)


def test_faults_of_the_archive():
    text = model(obj(1, CORNER), ITEM)
    good = archive(text, zipfile.ZIP_STORED)
    refused(good.replace(b'x="60"', b'x="61"'), "check sum")
    refused(archive("<?xml version='1.0'?><!DOCTYPE model [<!ENTITY a 'a'>]>" + text.split("?>", 1)[1]),
            "document type")
    refused(good[:-1], "whole")
    refused(archive("<html/>"), "html")
    # Bytes changed one by one: a status or a mesh, never a crash.
    for i in range(0, len(good), 7):
        try:
            load(good[:i] + bytes([good[i] ^ 0x40]) + good[i + 1:])
        except vug.VugError:
            pass


def test_what_is_written(part, tmp_path):
    mesh = vug.Mesh.load(part)
    path = tmp_path / 'my "part" & more.3mf'
    mesh.save(path)
    with zipfile.ZipFile(path) as z:
        assert z.testzip() is None
        root = ElementTree.fromstring(z.read("3D/model.model"))
    space = {"c": CORE}
    assert root.get("unit") == "millimeter"
    one, = root.findall("c:resources/c:object", space)
    assert (one.get("type"), one.get("name")) == ("model", 'my "part" & more')
    item, = root.findall("c:build/c:item", space)
    assert item.get("objectid") == one.get("id")
    xyz = [[float(v.get(k)) for k in "xyz"] for v in one.iter(f"{{{CORE}}}vertex")]
    corners = [[int(t.get(k)) for k in ("v1", "v2", "v3")] for t in one.iter(f"{{{CORE}}}triangle")]
    assert len(xyz) == len(mesh.vertices)
    assert all(a == pytest.approx(b, rel=1e-11) for a, b in zip(xyz, mesh.vertices.tolist()))
    assert corners == mesh.triangles.tolist()
    assert vug.Mesh.load(path).measure().volume_mm3 == pytest.approx(mesh.measure().volume_mm3, rel=1e-10)
