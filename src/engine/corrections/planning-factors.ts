/** How the source was seen: 'primary' its own text, 'second-hand' a transcription or citation, 'memory' recalled. */
export type SourceSeen = 'primary' | 'second-hand' | 'memory';

export interface PlanningFactor {
  /** Stable, kebab-case. */
  readonly id: string;
  /** What is changed, as a phrase. */
  readonly change: string;
  /** On which distance. */
  readonly appliesTo: 'take-off distance' | 'ground roll' | 'reported wind';
  /** Multiplier, dimensionless; with two for a range. */
  readonly factor: number;
  readonly orMore?: boolean;
  readonly source: string;
  readonly seen: SourceSeen;
}

/**
 * Published planning factors, for the text of a report and as a check of sense. They hide a safety margin, disagree with each other and with
 * flight-test exponents by design, and are never used to correct a measured run. They multiply.
 */
export const planningFactors: readonly PlanningFactor[] = [
  {
    id: 'mass-plus-10-percent',
    change: '10 % more weight',
    appliesTo: 'take-off distance',
    factor: 1.2,
    source: 'UK CAA SafetySense Leaflet 7 (aeroplane performance)',
    seen: 'second-hand',
  },
  {
    id: 'elevation-plus-1000-ft',
    change: '1,000 ft more elevation',
    appliesTo: 'take-off distance',
    factor: 1.1,
    source: 'UK CAA SafetySense Leaflet 7 (aeroplane performance)',
    seen: 'second-hand',
  },
  {
    id: 'temperature-plus-10-c',
    change: '10 degrees C warmer',
    appliesTo: 'take-off distance',
    factor: 1.1,
    source: 'UK CAA SafetySense Leaflet 7 (aeroplane performance)',
    seen: 'second-hand',
  },
  {
    id: 'dry-grass',
    change: 'dry firm grass up to 20 cm',
    appliesTo: 'take-off distance',
    factor: 1.2,
    source: 'UK CAA SafetySense Leaflet 7 (aeroplane performance)',
    seen: 'second-hand',
  },
  {
    id: 'wet-grass',
    change: 'wet grass up to 20 cm',
    appliesTo: 'take-off distance',
    factor: 1.3,
    source: 'UK CAA SafetySense Leaflet 7 (aeroplane performance)',
    seen: 'second-hand',
  },
  {
    id: 'upslope-2-percent',
    change: '2 % uphill',
    appliesTo: 'take-off distance',
    factor: 1.1,
    source: 'UK CAA SafetySense Leaflet 7 (aeroplane performance)',
    seen: 'second-hand',
  },
  {
    id: 'tailwind-10-percent',
    change: 'tailwind of 10 % of the lift-off speed',
    appliesTo: 'take-off distance',
    factor: 1.2,
    source: 'UK CAA SafetySense Leaflet 7 (aeroplane performance)',
    seen: 'second-hand',
  },
  {
    id: 'soft-ground',
    change: 'soft ground or snow',
    appliesTo: 'take-off distance',
    factor: 1.25,
    orMore: true,
    source: 'common practice, no source',
    seen: 'memory',
  },
  {
    id: 'private-safety-factor',
    change: 'recommended further factor for private flights',
    appliesTo: 'take-off distance',
    factor: 1.33,
    source: 'UK CAA SafetySense Leaflet 7c',
    seen: 'second-hand',
  },
  {
    id: 'commercial-class-b',
    change: 'commercial flights of performance class B, no stopway or clearway',
    appliesTo: 'take-off distance',
    factor: 1.25,
    source: 'CAT.POL.A.305(b), air-operations rules',
    seen: 'second-hand',
  },
  {
    id: 'dry-grass-faa-example',
    change: 'dry grass, as noted under the example table',
    appliesTo: 'ground roll',
    factor: 1.15,
    source: 'FAA-H-8083-25C fig. 11-24 note 3',
    seen: 'primary',
  },
  {
    id: 'slope-per-percent',
    change: 'each 1 % uphill, up to 2 %',
    appliesTo: 'take-off distance',
    factor: 1.05,
    source: 'CAT.POL.A.305 AMC2 and CAT.POL.A.400 AMC2, air-operations rules',
    seen: 'primary',
  },
  {
    id: 'headwind-credit',
    change: 'credit for a reported headwind, at most',
    appliesTo: 'reported wind',
    factor: 0.5,
    source: 'CAT.POL.A.400(d)(5) and CAT.POL.A.305, air-operations rules',
    seen: 'primary',
  },
  {
    id: 'tailwind-charge',
    change: 'charge for a reported tailwind, at least',
    appliesTo: 'reported wind',
    factor: 1.5,
    source: 'CAT.POL.A.400(d)(5) and CAT.POL.A.305, air-operations rules',
    seen: 'primary',
  },
];

/**
 * Share of the lift-off speed that must be reached by half of the runway, else stop: constant acceleration gives 1/sqrt(2) = 0.7071 at half
 * the distance. Common practice ("70 % by half way"), no source.
 */
export const halfwaySpeedShare = 0.7;

/** The factor of that id. @throws RangeError for an id that is not in {@link planningFactors}. */
export function planningFactor(id: string): PlanningFactor {
  const found = planningFactors.find((factor) => factor.id === id);
  if (found === undefined) throw new RangeError(`No planning factor is called "${id}".`);
  return found;
}
