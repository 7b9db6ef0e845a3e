import * as z from 'zod';
import { key } from './key-meta.ts';
import { aircraft, configurations } from './sections/aircraft.ts';
import { airfields } from './sections/airfields.ts';
import { candidates } from './sections/candidates.ts';
import { days } from './sections/conditions.ts';
import { exclude } from './sections/exclude.ts';
import { flights } from './sections/flights.ts';
import { fuel } from './sections/fuel.ts';
import { loading } from './sections/loading.ts';
import { missions } from './sections/missions.ts';
import { plan } from './sections/plan.ts';
import { questions } from './sections/questions.ts';
import { reference } from './sections/reference.ts';
import { report } from './sections/report.ts';
import { share } from './sections/share.ts';
import { refuse, text } from './shapes.ts';

/** Version of the language that this engine understands. */
export const languageVersion = 1;

function version() {
  return key(
    z.string().transform((written, context) => {
      if (written === String(languageVersion)) return languageVersion;
      return refuse(
        context,
        'spec-version',
        `"modproof: ${written}" is a version that is not understood here: expected "modproof: ${languageVersion}".`,
      );
    }),
    {
      doc: 'Version of this language; it marks the file as a comparison spec.',
      example: String(languageVersion),
      jsonSchema: { const: languageVersion },
    },
  );
}

/**
 * The sections of a spec, in the order of a well-kept file. To add one: write its shape in `sections/`, with a meaning for
 * each key, and name it here. Diagnostics, completion, hover and the JSON Schema follow.
 */
export const sections = {
  modproof: version(),
  title: text({
    doc: 'What was changed on what, in one line.',
    example: 'Wheel fairings on the Tern',
    alsoCalled: ['name'],
  }).optional(),
  aircraft: aircraft(),
  configurations: configurations(),
  airfields: airfields().optional(),
  days: days().optional(),
  flights: flights(),
  exclude: exclude().optional(),
  reference: reference().optional(),
  questions: questions().optional(),
  loading: loading().optional(),
  fuel: fuel().optional(),
  candidates: candidates().optional(),
  missions: missions().optional(),
  plan: plan().optional(),
  report: report().optional(),
  share: share().optional(),
};

export const specShape = key(z.strictObject(sections), { doc: 'A comparison spec.' });

/** A spec as written: quantities in SI, names not yet resolved. */
export type WrittenSpec = z.output<typeof specShape>;
export type WrittenFlight = WrittenSpec['flights'][number];
export type WrittenConditions = NonNullable<WrittenSpec['days']>[string];
export type WrittenAirfield = NonNullable<WrittenSpec['airfields']>[string];
export type WrittenAircraft = WrittenSpec['aircraft'];
export type WrittenConfigurations = WrittenSpec['configurations'];
