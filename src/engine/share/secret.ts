import { sha256OfText } from '../evaluate/index.ts';

/** Words from which chance follows where a person states none: of the recordings themselves, which the reader has not got. */
export async function secretOf(contentHashes: readonly string[]): Promise<string> {
  return (await sha256OfText([...contentHashes].sort().join('\n'))).slice(0, 16);
}

/** The seed that belongs to a secret: a whole number of 32 bits. */
export async function seedOf(secret: string): Promise<number> {
  return Number.parseInt((await sha256OfText(`share ${secret.trim()}`)).slice(0, 8), 16) | 0;
}
