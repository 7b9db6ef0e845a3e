/**
 * Requests and replies over `postMessage`, the same on both sides. Every request ends: in a reply, in a failure, or in a
 * cancel, even when the other side goes away.
 */

/** One end of a channel of structured clones. */
export interface Port {
  post(message: unknown): void;
  /** Returns a function that stops listening. */
  listen(handler: (message: unknown) => void): () => void;
}

/** Name to function of one argument; the shape of `HostMethods` and `PageMethods` in `protocol.ts`. */
export type Methods<M> = { readonly [K in keyof M]: (argument: never, signal: AbortSignal) => unknown };

/** Functions that answer for `M`: at once or later. */
export type Implementation<M> = {
  readonly [K in keyof M]: M[K] extends (argument: infer A, ...rest: never[]) => infer R
    ? (argument: A, signal: AbortSignal) => R | Promise<Awaited<R>>
    : never;
};
type AnyMethod = (argument: unknown, signal: AbortSignal) => unknown;

type Argument<F> = F extends (argument: infer A, ...rest: never[]) => unknown ? A : never;
type Result<F> = F extends (...arguments_: never[]) => infer R ? Awaited<R> : never;

interface Request {
  readonly rpc: 'request';
  readonly id: number;
  readonly method: string;
  readonly argument: unknown;
}
type Reply =
  | { readonly rpc: 'reply'; readonly id: number; readonly result: unknown }
  | { readonly rpc: 'failure'; readonly id: number; readonly message: string }
  | { readonly rpc: 'cancelled'; readonly id: number };
/** A request that nobody waits for: the other side may be gone for good reasons. */
interface Notice {
  readonly rpc: 'notice';
  readonly method: string;
  readonly argument: unknown;
}
interface Cancel {
  readonly rpc: 'cancel';
  readonly id: number;
}
type Message = Request | Notice | Reply | Cancel;

/** The other side did what was asked and it went wrong; the message is for people. */
export class RemoteFailure extends Error {
  override readonly name = 'RemoteFailure';
}

/** The request was cancelled, here or there, or the channel was closed. */
export class Cancelled extends Error {
  override readonly name = 'Cancelled';
  constructor(message = 'cancelled') {
    super(message);
  }
}

export interface Connection<Remote> {
  /** Asks the other side. Rejects with {@link RemoteFailure} or {@link Cancelled}. */
  call<K extends keyof Remote & string>(
    method: K,
    argument: Argument<Remote[K]>,
    signal?: AbortSignal,
  ): Promise<Result<Remote[K]>>;
  /** Tells the other side without waiting: no reply, and no failure when it is not there. */
  notify<K extends keyof Remote & string>(method: K, argument: Argument<Remote[K]>): void;
  /** Rejects all that is open and aborts all that is under way here. */
  close(): void;
}

interface Waiting {
  resolve(value: unknown): void;
  reject(reason: Error): void;
  done(): void;
}

function isMessage(value: unknown): value is Message {
  return typeof value === 'object' && value !== null && typeof (value as { rpc?: unknown }).rpc === 'string';
}

function isCancel(error: unknown): boolean {
  const name = error instanceof Error ? error.name : '';
  return name === 'Cancelled' || name === 'AbortError';
}

/** Connects `port`: `local` answers the other side, and the result asks it. */
export function connect<Remote extends Methods<Remote>, Local extends Methods<Local>>(
  port: Port,
  local: Implementation<Local>,
): Connection<Remote> {
  const waiting = new Map<number, Waiting>();
  const underWay = new Map<number, AbortController>();
  let next = 1;
  let closed = false;

  const run = async (method: string, argument: unknown, signal: AbortSignal): Promise<unknown> => {
    if (!Object.hasOwn(local, method)) throw new Error(`no such method: ${method}`);
    return (local[method as keyof Local] as unknown as AnyMethod).call(local, argument, signal);
  };

  const answer = async (request: Request): Promise<void> => {
    const controller = new AbortController();
    underWay.set(request.id, controller);
    let reply: Reply;
    try {
      const result = await run(request.method, request.argument, controller.signal);
      reply = { rpc: 'reply', id: request.id, result };
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      reply = isCancel(error) ? { rpc: 'cancelled', id: request.id } : { rpc: 'failure', id: request.id, message };
    }
    underWay.delete(request.id);
    if (closed) return;
    try {
      port.post(reply);
    } catch (error) {
      // A result that cannot be cloned is a mistake of ours, but the other side must not wait for ever.
      port.post({ rpc: 'failure', id: request.id, message: `the reply could not be sent: ${String(error)}` });
    }
  };

  const settle = (reply: Reply): void => {
    const one = waiting.get(reply.id);
    if (one === undefined) return;
    waiting.delete(reply.id);
    one.done();
    if (reply.rpc === 'reply') one.resolve(reply.result);
    else one.reject(reply.rpc === 'failure' ? new RemoteFailure(reply.message) : new Cancelled());
  };

  const stopListening = port.listen((message) => {
    if (!isMessage(message)) return;
    if (message.rpc === 'request') void answer(message);
    else if (message.rpc === 'notice') {
      run(message.method, message.argument, new AbortController().signal).catch(() => undefined);
    } else if (message.rpc === 'cancel') underWay.get(message.id)?.abort(new Cancelled());
    else settle(message);
  });

  return {
    call(method, argument, signal) {
      return new Promise((resolve, reject) => {
        if (closed) return reject(new Cancelled('the channel is closed'));
        if (signal?.aborted === true) return reject(new Cancelled());
        const id = next++;
        const cancel = (): void => {
          waiting.delete(id);
          port.post({ rpc: 'cancel', id } satisfies Cancel);
          reject(new Cancelled());
        };
        signal?.addEventListener('abort', cancel, { once: true });
        waiting.set(id, {
          resolve,
          reject,
          done: () => signal?.removeEventListener('abort', cancel),
        });
        try {
          port.post({ rpc: 'request', id, method, argument } satisfies Request);
        } catch (error) {
          waiting.delete(id);
          signal?.removeEventListener('abort', cancel);
          reject(error instanceof Error ? error : new Error(String(error)));
        }
      });
    },
    notify(method, argument) {
      if (!closed) port.post({ rpc: 'notice', method, argument } satisfies Notice);
    },
    close() {
      if (closed) return;
      closed = true;
      stopListening();
      for (const one of waiting.values()) {
        one.done();
        one.reject(new Cancelled('the channel is closed'));
      }
      waiting.clear();
      for (const controller of underWay.values()) controller.abort(new Cancelled('the channel is closed'));
      underWay.clear();
    },
  };
}
