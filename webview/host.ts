import type { CommonHostMethods } from '../shared/protocol.ts';
import { Cancelled, type Connection } from '../shared/rpc.ts';
import { announce } from './components/announce.ts';

/** As much of the host as parts shared by all pages need. */
export type CommonHost = Pick<Connection<CommonHostMethods>, 'call'>;

/** Awaits what a button started; says a failure where the reader is, and nothing of a cancel. */
export async function attempt(work: Promise<unknown>): Promise<void> {
  try {
    await work;
  } catch (error) {
    if (!(error instanceof Cancelled)) announce(error instanceof Error ? error.message : String(error), 'assertive');
  }
}
