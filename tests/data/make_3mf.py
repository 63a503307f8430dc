#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Writes made_places.3mf: a unit tetrahedron, in inches, placed by nested components and by a
build item, once mirrored. A support stands beside it, which is no part of the solid."""
import zipfile

MODEL = """<?xml version="1.0" encoding="UTF-8"?>
<model unit="inch" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">
 <resources>
  <object id="1" type="model"><mesh>
   <vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/><vertex x="0" y="0" z="1"/></vertices>
   <triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/></triangles>
  </mesh></object>
  <object id="2" type="support"><mesh>
   <vertices><vertex x="0" y="0" z="0"/><vertex x="9" y="0" z="0"/><vertex x="0" y="9" z="0"/><vertex x="0" y="0" z="9"/></vertices>
   <triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/></triangles>
  </mesh></object>
  <object id="3" type="model"><components>
   <component objectid="1" transform="1 0 0 0 1 0 0 0 1 10 0 0"/>
   <component objectid="1" transform="0 2 0 -1 0 0 0 0 1 0 20 0"/>
   <component objectid="1" transform="1 0 0 0 1 0 0 0 -1 0 0 -5"/>
  </components></object>
 </resources>
 <build>
  <item objectid="3" transform="1 0 0 0 1 0 0 0 1 0 0 100"/>
  <item objectid="2"/>
 </build>
</model>
"""
TYPES = """<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
"""
RELS = """<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
"""

with zipfile.ZipFile("made_places.3mf", "w", zipfile.ZIP_DEFLATED) as out:
    for name, text in (("[Content_Types].xml", TYPES), ("_rels/.rels", RELS),
                       ("3D/3dmodel.model", MODEL)):
        out.writestr(zipfile.ZipInfo(name, (2020, 1, 1, 0, 0, 0)), text)
