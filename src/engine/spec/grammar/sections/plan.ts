import * as z from 'zod';
import { key } from '../key-meta.ts';
import { flag, text } from '../shapes.ts';

export function plan() {
  return key(
    z.strictObject({
      configuration: key(z.string(), {
        doc: 'Configuration of the next flight; the last one if not written.',
        names: 'configurations',
      }).optional(),
      reversible: flag({
        doc: 'True when the change can be taken off again: then before-flights can still be asked for.',
        example: 'true',
      }).optional(),
      card: text({
        doc: 'File into which `modproof plan` writes the test card, relative to the spec.',
        example: 'test-card.md',
        alsoCalled: ['test-card', 'file'],
      }).optional(),
    }),
    {
      doc: 'The next test flight: how many days, which conditions, and a card to print.',
      alsoCalled: ['planning', 'next'],
    },
  );
}
