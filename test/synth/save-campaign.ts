// Writes a simulated campaign to a folder, to look at: npx tsx test/synth/save-campaign.ts FOLDER [SEED] [CHANGE] [fair|faking]
import { mkdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Campaign, type CampaignOptions, campaignSpec, makeCampaign, type ModificationName } from './index.ts';

/** Recordings, the spec beside them, and `truth.json`: the standard answers, the true change, and each flight's truth. */
export function saveCampaign(folder: string, campaign: Campaign): void {
  mkdirSync(folder, { recursive: true });
  for (const flight of campaign.flights) writeFileSync(join(folder, flight.file), flight.bytes);
  writeFileSync(join(folder, 'campaign.modproof.yaml'), campaignSpec(campaign));
  const truth = {
    seed: campaign.seed,
    change: campaign.change,
    standard: campaign.standard,
    answers: campaign.answers,
    trueChange: campaign.trueChange,
    flights: campaign.flights.map(({ file, configuration, receiverName, format, truth: flown }) => ({
      file,
      configuration,
      receiverName,
      format,
      ...flown,
    })),
  };
  writeFileSync(join(folder, 'truth.json'), `${JSON.stringify(truth, null, 1)}\n`);
}

if (process.argv[1] !== undefined && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const [folder, seed = 'campaign', change, weather] = process.argv.slice(2);
  if (folder === undefined) {
    console.error('Name a folder: npx tsx test/synth/save-campaign.ts FOLDER [SEED] [CHANGE] [fair|faking]');
    process.exit(2);
  }
  const options: CampaignOptions = {
    ...(change !== undefined && { change: change as ModificationName }),
    weather: weather === 'faking' ? 'faking' : 'fair',
  };
  const campaign = makeCampaign(seed, options);
  saveCampaign(folder, campaign);
  console.log(`${campaign.flights.length} recordings of "${campaign.change.name}" in ${folder}`);
}
