import assert from 'node:assert/strict';
import { Cancelled, connect, type Port, RemoteFailure } from '../../../shared/rpc.ts';

/** Two ends of a channel that copies what it carries, as `postMessage` does, and delivers it later. */
function channel(): { a: Port; b: Port; sent: unknown[] } {
  const handlers: { a: Set<(m: unknown) => void>; b: Set<(m: unknown) => void> } = { a: new Set(), b: new Set() };
  const sent: unknown[] = [];
  const port = (mine: 'a' | 'b', other: 'a' | 'b'): Port => ({
    post(message) {
      const copy: unknown = structuredClone(message);
      sent.push(copy);
      queueMicrotask(() => {
        for (const handler of handlers[other]) handler(copy);
      });
    },
    listen(handler) {
      handlers[mine].add(handler);
      return () => handlers[mine].delete(handler);
    },
  });
  return { a: port('a', 'b'), b: port('b', 'a'), sent };
}

interface Ping {
  ping(argument: null): string;
}

const ping: Ping = { ping: () => 'pong' };

interface Far {
  double(argument: number): number;
  fail(argument: string): never;
  wait(argument: null, signal: AbortSignal): Promise<string>;
  column(argument: null): Float64Array;
  unsendable(argument: null): unknown;
}

const far = {
  double: (argument: number) => argument * 2,
  fail: (argument: string): never => {
    throw new Error(argument);
  },
  wait: (_argument: null, signal: AbortSignal) =>
    new Promise<string>((_resolve, reject) => {
      signal.addEventListener('abort', () => reject(signal.reason as Error));
    }),
  column: () => Float64Array.of(1, Number.NaN, 3),
  unsendable: () => () => undefined,
};

describe('rpc', () => {
  it('gives the reply of a method, typed arrays and all', async () => {
    const { a, b } = channel();
    connect<Ping, typeof far>(b, far);
    const near = connect<Far, Ping>(a, ping);
    assert.equal(await near.call('double', 21), 42);
    assert.deepEqual(await near.call('column', null), Float64Array.of(1, Number.NaN, 3));
  });

  it('rejects with the other side’s message when a method throws', async () => {
    const { a, b } = channel();
    connect<Ping, typeof far>(b, far);
    const near = connect<Far, Ping>(a, ping);
    await assert.rejects(near.call('fail', 'no such runway'), (error: Error) => {
      assert.ok(error instanceof RemoteFailure);
      assert.equal(error.message, 'no such runway');
      return true;
    });
  });

  it('rejects for a method that is not there, also one of Object', async () => {
    const { a, b } = channel();
    connect<Ping, typeof far>(b, far);
    const near = connect<Record<string, (argument: null) => void>, Ping>(a, ping);
    await assert.rejects(near.call('nothing', null), /no such method: nothing/);
    await assert.rejects(near.call('toString', null), /no such method: toString/);
  });

  it('rejects when the reply cannot be sent', async () => {
    const { a, b } = channel();
    connect<Ping, typeof far>(b, far);
    const near = connect<Far, Ping>(a, ping);
    await assert.rejects(near.call('unsendable', null), /could not be sent/);
  });

  it('cancels: the caller is freed at once and the other side’s signal fires', async () => {
    const { a, b } = channel();
    let aborted = false;
    connect<Ping, typeof far>(b, {
      ...far,
      wait: (argument, signal) => {
        signal.addEventListener('abort', () => {
          aborted = true;
        });
        return far.wait(argument, signal);
      },
    });
    const near = connect<Far, Ping>(a, ping);
    const controller = new AbortController();
    const waiting = near.call('wait', null, controller.signal);
    await new Promise((resolve) => setTimeout(resolve, 5));
    controller.abort();
    await assert.rejects(waiting, Cancelled);
    await new Promise((resolve) => setTimeout(resolve, 5));
    assert.equal(aborted, true);
  });

  it('does not even ask when the signal has fired before', async () => {
    const { a, sent } = channel();
    const near = connect<Far, Ping>(a, ping);
    await assert.rejects(near.call('double', 1, AbortSignal.abort()), Cancelled);
    assert.equal(sent.length, 0);
  });

  it('closing rejects what waits here and aborts what runs here', async () => {
    const { a, b } = channel();
    const answering = connect<Ping, typeof far>(b, far);
    const near = connect<Far, Ping>(a, ping);
    const waiting = near.call('wait', null);
    await new Promise((resolve) => setTimeout(resolve, 5));
    answering.close();
    near.close();
    await assert.rejects(waiting, /closed/);
    await assert.rejects(near.call('double', 1), /closed/);
  });

  it('tells without waiting, and does not mind when the telling fails', async () => {
    const { a, b, sent } = channel();
    const heard: number[] = [];
    connect<Ping, { hear(argument: number): void }>(b, {
      hear: (argument) => {
        heard.push(argument);
        throw new Error('deaf');
      },
    });
    const near = connect<{ hear(argument: number): void }, Ping>(a, ping);
    near.notify('hear', 1);
    near.notify('hear', 2);
    await new Promise((resolve) => setTimeout(resolve, 5));
    assert.deepEqual(heard, [1, 2]);
    assert.equal(sent.length, 2);
    near.close();
    near.notify('hear', 3);
    assert.equal(sent.length, 2);
  });

  it('goes both ways on one channel and does not mind strangers’ messages', async () => {
    const { a, b } = channel();
    const one = connect<{ name(argument: null): string }, { name(argument: null): string }>(a, { name: () => 'host' });
    const two = connect<{ name(argument: null): string }, { name(argument: null): string }>(b, { name: () => 'page' });
    a.post('hello');
    b.post({ rpc: 'reply', id: 999, result: 1 });
    assert.equal(await one.call('name', null), 'page');
    assert.equal(await two.call('name', null), 'host');
  });
});
