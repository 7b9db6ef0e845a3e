import { engineVersion } from '../engine/version.ts';

const exits = `Exit codes
  0  done
  1  done as far as could be: the spec or a recording has errors (told on stderr)
  2  nothing could be done: no such file, not writable, refused to overwrite
  3  the command line is wrong
  130  interrupted with Ctrl-C`;

const units = `  --units SET    icao (m, ft, kt, ft/min, kg, L, hPa), us (ft, kt, lb, US gal, inHg) or metric`;

export const helpTexts: Readonly<Record<string, string>> = {
  '': `modproof ${engineVersion}
Find out from ordinary flights, recorded before and after, what a modification of a light aeroplane really did.

Usage
  modproof inspect TRACK...   what is in recordings: phases, take-offs, climbs, level runs, landings
  modproof new TRACK...       write a spec to start from, with blanks for what you noted
  modproof check SPEC...      check a spec without reading the recordings
  modproof compare SPEC       answer the spec's questions and write the report

  modproof share TRACK...|SPEC  write copies of recordings without their places, to give away

  modproof loading SPEC       weight and balance of the change: new empty weight, CG, loadings and the envelope
  modproof range SPEC         endurance and range with the reserve kept, payload against range, cost
  modproof candidates SPEC    changes under consideration, predicted from the measured aeroplane
  modproof missions SPEC      what the aeroplane is needed for: yes, no, or not enough data
  modproof plan SPEC          how many more days, which conditions, and a test card to print

  modproof COMMAND --help     more about one command
  modproof --version

The way to an answer
  1. modproof inspect flights/            does it find your take-offs?
  2. modproof new flights/*.gpx           gives comparison.modproof.yaml
  3. Fill in the blanks: temperature, altimeter setting, wind, weight, runway; which flights were before and after.
     What you did not note stays blank: it is never guessed.
  4. modproof check comparison.modproof.yaml
  5. modproof compare comparison.modproof.yaml

Recordings: GPX, IGC, KML gx:Track, NMEA 0183, CSV/TSV, FIT, films with a position track; also in gzip or zip. The content
decides, not the name. TRACK may be a file, a folder (with the folders below it, four deep), or a quoted pattern such as
"flights/**/*.igc".

${exits}

Results are your own measurements, not approved performance data: the flight manual rules.
`,
  inspect: `modproof inspect TRACK...
Shows what is in recordings: phases of flight, take-offs, climbs, level runs, winds and landings, each with its 95 % interval.

Options
  --one-flight   the files are recordings of one flight: parts that a recorder split are put in line, other recorders are
                 joined by their clocks. The first named gives times, positions and speeds; the offset of each clock, with
                 its 95 % interval, and the reason where a file was not joined, are told.
  --json         machine-readable, an array with one object a file (src/cli/JSON.md)
${units}
  --verbose      notices too, not only warnings and errors

Examples
  modproof inspect flight.gpx
  modproof inspect "flights/**/*.igc" --units us
  modproof inspect flights/ --json > flights.json
  modproof inspect --one-flight films/part1.mp4 films/part2.mp4 engine.csv

Problems go to stderr as file:line:column: severity code: message. An event that cannot be found well is left out, with the
reason; nothing is invented.

${exits}
`,
  compare: `modproof compare SPEC
Reads the recordings of a spec, brings them to the same conditions, compares the configurations and writes the report.

The report goes where the spec says (report: file, or insert-into between two marker comments of your notes); without that,
the answer is only shown. A report is replaced only while it is as it was written: your own changes are never lost.

Options
  --json         machine-readable, on stdout (src/cli/JSON.md); no report is written unless --output says so
  --output FILE  write the report to this Markdown file, whatever the spec says
  --no-report    show the answer only
  --hide-positions  leave places, names of files and registrations out of the report and the JSON, to give it away
${units}; instead of the spec's
  --no-cache     work everything out again; otherwise results are kept in .modproof-cache beside the spec
  --force        replace a report that was changed by hand; the old one is kept as FILE.old
  --verbose      notices too, not only warnings and errors

Examples
  modproof compare fairings.modproof.yaml
  modproof compare fairings.modproof.yaml --output report.md --units us
  modproof compare fairings.modproof.yaml --json | jq '.metrics[].changes'

Markers for insert-into, each on a line of its own in your notes:
  <!-- modproof:begin -->
  <!-- modproof:end -->

${exits}
`,
  check: `modproof check SPEC...
Checks specs without reading the recordings: keys, units, names, values that cannot be; and whether the recordings exist.
What is still to be filled is listed as a notice.

Options
  --json         an array of problems {code, severity, message, file, line, column}

Example
  modproof check fairings.modproof.yaml

The language is described in src/engine/spec/README.md; comparison.schema.json beside it serves any YAML editor.

${exits}
`,
  new: `modproof new TRACK...
Writes a spec to start from. What the recordings know is filled in: files, dates, runway headings, rolling starts. What only
you know is a blank with a comment: weather, weights, runways, which flights were before and after.

Options
  --output FILE  the spec to write (comparison.modproof.yaml); "-" for stdout. An existing file is never overwritten.
  --title TEXT   what was changed on what
  --verbose      notices too, not only warnings and errors

Example
  modproof new flights/*.gpx --title "Wheel fairings on the Tern" --output fairings.modproof.yaml

${exits}
`,
  share: `modproof share TRACK...|SPEC
Writes copies of recordings without their places, to give away: flight-01.gpx and so on in the folder "shared". The recordings
themselves are never changed, and no file is ever replaced. A copy is made from the samples alone: names of files, titles,
dates in names, and headers with pilot, registration or serial number do not go over.

Either the whole flight is moved to a point in an ocean: distances, directions, times and speeds stay, and analysis gives the
same as before. Flights from the same field are moved by the same shift. Or, with --cut, positions stay real and what lies
around the fields is left out, and with it take-off and landing. What a reader can still find is told at the end: read it.

With a spec, its recordings are copied as its section "share" says; an option here counts instead.

Options
  --cut RADIUS     leave out a circle around where each flight begins and ends, e.g. "8 km"; its centre is put off by chance
  --around PLACE   hide this place instead, "latitude longitude" in degrees; may stand several times
  --heights WHICH  kept, or relative: above the place where each recording begins (density altitude is lost)
  --dates WHICH    kept, or moved: by whole days, the first flight to 2010-01-01; times of day and days between stay
  --format WHICH   gpx or csv; otherwise csv where a recording holds more than GPX can carry
  --output FOLDER  another folder than "shared"
  --secret WORDS   words from which the circles follow, so that later copies have the same ones
  --json           machine-readable (src/cli/JSON.md)
  --verbose        notices too, not only warnings and errors

Examples
  modproof share flights/*.igc --heights relative --dates moved
  modproof share flights/ --cut "10 km" --around "12.345 N 30.123 W" --output for-the-club
  modproof share fairings.modproof.yaml

${exits}
`,
  loading: `modproof loading SPEC
Weight and balance of every configuration and candidate: new empty weight and CG from what was removed and installed,
useful load, and each loading at take-off, landing, zero fuel and the most adverse forward and aft, against the envelope.
The flight manual and the mechanic's record rule.

Works from the section "loading" of the spec; it needs no flights.

Options
  --json         machine-readable (src/cli/JSON.md)
${units}; instead of the spec's
  --no-cache     work everything out again
  --verbose      notices too, not only warnings and errors

Example
  modproof loading fairings.modproof.yaml

${exits}
`,
  range: `modproof range SPEC
Endurance and range of every configuration at each cruise setting with the legal reserve kept, payload against range, and
cost by hour and distance. Speeds and flows come from the flights, from full-to-full fills, or from the spec.

Works from the section "fuel" of the spec.

Options
  --json         machine-readable (src/cli/JSON.md)
${units}; instead of the spec's
  --no-cache     work everything out again
  --verbose      notices too, not only warnings and errors

Example
  modproof range fairings.modproof.yaml

${exits}
`,
  candidates: `modproof candidates SPEC
Changes under consideration, run through the physics from the measured baseline: ground roll, climb, level speed, ceiling,
CG and useful load, each with the honest width of a prediction; beside it what was measured once it was flown.

Works from the section "candidates" of the spec and the flights of the configuration that would be changed.

Options
  --json         machine-readable (src/cli/JSON.md)
${units}; instead of the spec's
  --no-cache     work everything out again
  --verbose      notices too, not only warnings and errors

Example
  modproof candidates fairings.modproof.yaml

${exits}
`,
  missions: `modproof missions SPEC
Named needs (a strip with an obstacle, a leg with a payload, a climb at a height), answered for every configuration from its
measured performance with the published safety factors: yes, no, or not enough data, and the margin.

Works from the section "missions" of the spec and the flights.

Options
  --json         machine-readable (src/cli/JSON.md)
${units}; instead of the spec's
  --no-cache     work everything out again
  --verbose      notices too, not only warnings and errors

Example
  modproof missions fairings.modproof.yaml

${exits}
`,
  plan: `modproof plan SPEC
How many more flying days would settle each question, which conditions are missing to match before and after, and a test
card with a conditions sheet to print (Markdown).

Works from the section "plan" of the spec and the flights.

Options
  --json         machine-readable (src/cli/JSON.md)
${units}; instead of the spec's
  --no-cache     work everything out again
  --verbose      notices too, not only warnings and errors
  --output FILE  write the test card to this file; an existing file is never overwritten

Example
  modproof plan fairings.modproof.yaml

${exits}
`,
};
