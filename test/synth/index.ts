export { simulatedFlight, simulatedFlights, type FlightOptions, type SimulatedFlight } from './simulated-flights.ts';
export type {
  FlightTruth,
  TakeoffTechnique,
  TrueBand,
  TrueClimb,
  TrueLanding,
  TrueLevelRun,
  TruePhase,
  TruePhaseKind,
  TrueTakeoff,
} from './truth.ts';
export { fleet, type Aeroplane, type FleetName } from './aeroplane.ts';
export { airfields, runwayEnds, type Airfield, type AirfieldName } from './airfield.ts';
export { receiverKinds, type ReceiverKind, type ReceiverName } from './receiver-kinds.ts';
export { weatherKinds, type WeatherKind } from './weather.ts';
export type { SyntheticTrack } from './track-in-memory.ts';
export { meanOver, valueAt, type TruthTable } from './recorder.ts';
export { formatsOf, type FileFormat, writeRecording } from './write/index.ts';
export {
  type Campaign,
  type CampaignFlight,
  type CampaignOptions,
  makeCampaign,
  nominalInItsConditions,
  referenceSpeeds,
} from './campaign.ts';
export { modifications, type Modification, type ModificationName } from './modification.ts';
export type { PilotNotes } from './pilot-notes.ts';
export { campaignSpec } from './write/spec-text.ts';
