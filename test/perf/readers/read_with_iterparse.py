# The same work with Python's standard library: iterparse, each point cleared once it was read.
import json
import resource
import sys
import time
import xml.etree.ElementTree as ElementTree
from datetime import datetime

start = time.process_time()
points = []
for _, element in ElementTree.iterparse(sys.argv[1]):
    if not element.tag.endswith("}trkpt"):
        continue
    elevation = at = speed = course = None
    for child in element.iter():
        name = child.tag.rsplit("}", 1)[-1]
        if name == "ele":
            elevation = float(child.text)
        elif name == "time":
            at = datetime.fromisoformat(child.text.replace("Z", "+00:00")).timestamp()
        elif name == "speed":
            speed = float(child.text)
        elif name == "course":
            course = float(child.text)
    points.append((at, float(element.get("lat")), float(element.get("lon")), elevation, speed, course))
    element.clear()
seconds = time.process_time() - start
megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(json.dumps({"points": len(points), "seconds": seconds, "megabytes": megabytes}))
