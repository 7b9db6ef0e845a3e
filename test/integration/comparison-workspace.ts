import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { campaignSpec, makeCampaign } from '../synth/index.ts';

/** A small comparison that is known to be whole: three days before, three after, and its spec. */
export function makeComparison(folder: string): void {
  const campaign = makeCampaign('integration', {
    daysBefore: 3,
    daysAfter: 3,
    runsPerDay: 1,
    receivers: ['handheld'],
    formats: ['gpx-speed'],
    length: 'short',
  });
  for (const flight of campaign.flights) {
    mkdirSync(join(folder, 'campaign', flight.file, '..'), { recursive: true });
    writeFileSync(join(folder, 'campaign', flight.file), flight.bytes);
  }
  const spec = `${campaignSpec(campaign).trimEnd()}\nreport:\n  file: before-after.md\n`;
  writeFileSync(join(folder, 'campaign', 'before-after.modproof.yaml'), spec);
}
