"""ezdxf's side of the comparison that peers.sh makes.

    python3 peer.py write FILE
    python3 peer.py read FILE
"""

import sys

import ezdxf


def write(name):
    """Writes 20,000 closed outlines of four corners, the drawing of driver/main.go."""
    doc = ezdxf.new("R12")
    doc.layers.new("OUTLINE", dxfattribs={"color": 1})
    space = doc.modelspace()
    for i in range(20000):
        x, y = (i % 200) * 12.345678, (i // 200) * 23.456789
        corners = [(x, y), (x + 10.123456, y + 0.5), (x + 10.5, y + 20.25), (x + 0.125, y + 20.75)]
        space.add_polyline2d(corners, dxfattribs={"layer": "OUTLINE"}).close(True)
    doc.saveas(name)


def read(name):
    """Reads a drawing and counts what is in it."""
    print(len(ezdxf.readfile(name).modelspace()), "entities")


{"write": write, "read": read}[sys.argv[1]](sys.argv[2])
