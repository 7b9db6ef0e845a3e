// Writes the flights and the spec of `examples/` anew: node --import=tsx test/synth/make-examples.ts
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { exampleFlights } from './example-campaign.ts';
import { exampleSpec } from './example-spec.ts';

const folder = fileURLToPath(new URL('../../examples', import.meta.url));
mkdirSync(join(folder, 'flights'), { recursive: true });
const flights = exampleFlights();
for (const flight of flights) writeFileSync(join(folder, 'flights', flight.file), flight.bytes);
writeFileSync(join(folder, 'drooped-leading-edge.modproof.yaml'), exampleSpec(flights));
const bytes = flights.reduce((sum, flight) => sum + flight.bytes.length, 0);
console.log(`${flights.length} recordings, ${(bytes / 1e6).toFixed(1)} MB, and the spec in ${folder}`);
