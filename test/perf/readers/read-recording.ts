// Reads one recording in a process of its own and says how long it took and how much memory that needed at most; then once
// more, for what it costs where many recordings are read.
import { nodeWorld } from '../../../src/cli/world-node.ts';
import { readRecording } from '../../../src/engine/readers/index.ts';

const file = await nodeWorld().open(process.argv[2]);
let bytesRead = 0;
const source = {
  ...file,
  read: async (offset: number, length: number): Promise<Uint8Array> => {
    const bytes = await file.read(offset, length);
    bytesRead += bytes.length;
    return bytes;
  },
};

async function read(): Promise<{ points: number; seconds: number }> {
  const start = process.cpuUsage();
  const { track } = await readRecording(source);
  const { user, system } = process.cpuUsage(start);
  return { points: track?.timeS.length ?? 0, seconds: (user + system) / 1e6 };
}

const first = await read();
const megabytesRead = bytesRead / 1e6;
const megabytes = process.resourceUsage().maxRSS / 1024;
const again = source.sizeBytes < 50e6 ? (await read()).seconds : undefined;
console.log(JSON.stringify({ ...first, megabytes, megabytesRead, again }));
