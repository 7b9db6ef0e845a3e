/**
 * Corners of the payload-range diagram: what can be carried how far.
 *
 * `payload = useful load - fuel`. Three corners: with the greatest payload the seats and the structure allow; with full
 * tanks; with full tanks and nobody but the pilot. Every kilogram of equipment added is a kilogram of payload, or the
 * range of a kilogram of fuel. Source: FAA-H-8083-25C ch. 10 (useful load, payload); the diagram is common practice, no
 * source.
 */
export interface PayloadRangeCorner {
  readonly name: 'greatest payload' | 'full tanks' | 'pilot alone, full tanks';
  /** kg, people and baggage, the pilot included. */
  readonly payloadKg: number;
  readonly fuelKg: number;
  /** m over the ground with the reserve kept; 0 when the fuel does not reach beyond reserve and allowance. */
  readonly rangeM: number;
}

export interface PayloadRangeInput {
  readonly maximumMassKg: number;
  readonly emptyMassKg: number;
  readonly usableFuelKg: number;
  /** Reserve and allowance, kg. */
  readonly keptFuelKg: number;
  /** Distance over the ground per kilogram of fuel, m/kg. */
  readonly rangePerKgM: number;
  /** What the seats and baggage places may hold, kg, if known: without it that corner is left out. */
  readonly greatestPayloadKg?: number;
  readonly pilotKg: number;
}

export function payloadRange(input: PayloadRangeInput): readonly PayloadRangeCorner[] {
  const usefulLoadKg = input.maximumMassKg - input.emptyMassKg;
  const corner = (name: PayloadRangeCorner['name'], payloadKg: number): PayloadRangeCorner => {
    const fuelKg = Math.max(0, Math.min(input.usableFuelKg, usefulLoadKg - payloadKg));
    return { name, payloadKg, fuelKg, rangeM: Math.max(0, fuelKg - input.keptFuelKg) * input.rangePerKgM };
  };
  const seatsKg = input.greatestPayloadKg ?? Number.POSITIVE_INFINITY;
  const fullTanksKg = Math.max(0, Math.min(seatsKg, usefulLoadKg - input.usableFuelKg));
  return [
    ...(input.greatestPayloadKg === undefined
      ? []
      : [corner('greatest payload', Math.max(0, Math.min(seatsKg, usefulLoadKg)))]),
    corner('full tanks', fullTanksKg),
    corner('pilot alone, full tanks', Math.min(input.pilotKg, usefulLoadKg)),
  ];
}
