import type { Fix } from '../synth/receive.ts';
import { Random } from '../synth/random.ts';
import { receive } from '../synth/receive.ts';
import { type ReceiverName, receiverKinds } from '../synth/receiver-kinds.ts';
import type { SimulatedFlight } from '../synth/simulated-flights.ts';
import { type FileFormat, writeRecording } from '../synth/write/index.ts';

/** What another recorder would leave of a simulated flight, its clock late by `lateS`; `from` to `to` in shares of the whole. */
export function recordedAgain(
  flight: SimulatedFlight,
  receiver: ReceiverName,
  format: FileFormat,
  seed: string,
  { lateS = 0, from = 0, to = 1 }: { readonly lateS?: number; readonly from?: number; readonly to?: number } = {},
): Uint8Array {
  const kind = receiverKinds[receiver];
  const { fixes, ...rest } = receive(flight.table, flight.field, { ...kind, gap: 0 }, new Random(seed));
  const moved = (fix: Fix): Fix => ({ ...fix, timeS: fix.timeS + lateS, trueTimeS: fix.trueTimeS + lateS });
  const part = fixes.slice(Math.floor(from * fixes.length), Math.ceil(to * fixes.length));
  return writeRecording({ ...rest, fixes: part.map(moved) }, format).bytes;
}
