import { exitCodes } from './exit-codes.ts';
import { CommandFailure, type CommandIo } from './io.ts';

/** A spec is text written by hand: a file larger than this is something else. */
const largestSpec = 4_000_000;

/** Text of a spec. Fails with a sentence when it cannot be read or is no UTF-8. */
export async function readSpec(path: string, io: CommandIo): Promise<string> {
  let bytes: Uint8Array;
  try {
    const source = await io.world.open(path);
    if (source.sizeBytes > largestSpec) throw new Error('it is too large for a spec');
    bytes = await source.read(0, source.sizeBytes);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new CommandFailure(`${path}: the spec cannot be read: ${reason}.`, exitCodes.failed);
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new CommandFailure(`${path}: the spec is not written in UTF-8: save it as UTF-8.`, exitCodes.failed);
  }
}
