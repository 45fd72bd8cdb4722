import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, it } from 'vitest';
import { Refused, Unreachable } from '../api/client';
import { newId } from './ids';
import { openKeep, type Keep, type NewOutgoing } from './keep';
import { Outbox, type OutboxListener } from './outbox';

/** A server that keeps taps by identifier and can be told how to fail. */
class Server {
  kept = new Map<string, unknown>();
  order: string[] = [];
  requests = 0;
  fail: ((body: unknown) => Error | null) | null = null;
  /** Keep what arrives, then lose the answer. */
  loseAnswer = false;

  send = async (_method: string, path: string, body: unknown) => {
    this.requests += 1;
    const failure = this.fail?.(body);
    if (failure) throw failure;
    for (const tap of Array.isArray(body) ? (body as { id: string }[]) : [{ id: path }]) {
      if (!this.kept.has(tap.id)) this.order.push(tap.id);
      this.kept.set(tap.id, tap);
    }
    if (this.loseAnswer) throw new Unreachable('lost');
    return [];
  };
}

class Heard implements OutboxListener {
  waiting: string[] = [];
  ends: (string | null)[] = [];
  deliveredIds: string[] = [];
  entries(entries: { id: string }[]) {
    this.waiting = entries.map((one) => one.id);
  }
  delivered(entries: { id: string }[]) {
    this.deliveredIds.push(...entries.map((one) => one.id));
  }
  stopped(why: string | null) {
    this.ends.push(why);
  }
}

function tap(id: string, burn = 'b1'): NewOutgoing {
  return { id, kind: 'tap', burn, method: 'POST', path: `burns/${burn}/taps`, body: { id, what: 'lid' } };
}

function undo(id: string): NewOutgoing {
  return { id, kind: 'undo', burn: 'b1', method: 'POST', path: `burns/b1/taps/${id}/undo`, body: undefined };
}

const away = () => new Unreachable('away');

let keep: Keep;
let server: Server;
let heard: Heard;

async function open(): Promise<Outbox> {
  heard = new Heard();
  const outbox = new Outbox(keep, server.send, heard);
  await outbox.load();
  return outbox;
}

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  keep = await openKeep();
  server = new Server();
});

describe('the outbox', () => {
  it('keeps taps over a reload and replays them once, in order, in one request', async () => {
    server.fail = away;
    const before = await open();
    for (const id of ['a', 'b', 'c']) await before.add(tap(id));
    await before.flush();
    expect(server.kept.size).toBe(0);

    keep = await openKeep(); // the page is loaded again
    const after = await open();
    expect(heard.waiting).toEqual(['a', 'b', 'c']);
    server.fail = null;
    server.requests = 0;
    await after.flush();
    expect(server.order).toEqual(['a', 'b', 'c']);
    expect(server.requests).toBe(1);
    expect(await keep.outgoing()).toEqual([]);
    expect(heard.ends.at(-1)).toBeNull();
  });

  it('sends again what may not have arrived; the same identifier makes the repeat harmless', async () => {
    server.loseAnswer = true;
    const outbox = await open();
    await outbox.add(tap('a'));
    await outbox.flush();
    expect(heard.waiting).toEqual(['a']);
    server.loseAnswer = false;
    await outbox.flush();
    expect(server.order).toEqual(['a']);
    expect(heard.waiting).toEqual([]);
  });

  it('finds the one tap that is refused, keeps it with the reason, and sends the others', async () => {
    server.fail = away;
    const outbox = await open();
    for (const id of ['a', 'bad', 'c']) await outbox.add(tap(id));
    await outbox.flush();
    server.fail = (body) =>
      JSON.stringify(body).includes('bad') ? new Refused(400, 'bad_input', 'No such spot.') : null;
    await outbox.flush();
    expect(server.order).toEqual(['a', 'c']);
    expect(outbox.entries.map((row) => [row.id, row.refused])).toEqual([['bad', 'No such spot.']]);
    expect(await outbox.withdraw('bad')).toBe(true);
    expect(await keep.outgoing()).toEqual([]);
  });

  it('puts away only what was refused', async () => {
    const outbox = await open();
    server.fail = (body) => (body === undefined ? new Refused(404, 'not_found', 'No such tap.') : away());
    await outbox.add(undo('a'));
    await outbox.add(tap('b'));
    await outbox.flush();
    for (const row of [...outbox.entries]) await outbox.forget(row.seq);
    expect((await keep.outgoing()).map((row) => row.id)).toEqual(['b']);
  });

  it('waits for a token, and for a busy server, without losing or refusing anything', async () => {
    const outbox = await open();
    server.fail = () => new Refused(401, 'not_allowed', 'Who is it?');
    await outbox.add(tap('a'));
    await outbox.flush();
    server.fail = () => new Refused(503, 'busy', 'In a moment.');
    await outbox.flush();
    expect(heard.ends).toContain('unknown person');
    expect(heard.ends.at(-1)).toBe('busy');
    expect(outbox.entries.map((row) => row.refused)).toEqual([null]);
  });

  it('takes back only what has surely not been sent', async () => {
    const outbox = await open();
    server.fail = away;
    await outbox.add(tap('a'));
    await outbox.flush();
    expect(await outbox.withdraw('a')).toBe(false); // an attempt was made: it may have arrived
    await outbox.add(undo('a'));
    server.fail = null;
    await outbox.flush();
    expect(server.order).toEqual(['a', 'burns/b1/taps/a/undo']);
  });

  it('tries nothing where the device knows of no network, so a tap can be taken back there', async () => {
    heard = new Heard();
    const outbox = new Outbox(keep, server.send, heard, () => false);
    await outbox.add(tap('a'));
    await outbox.flush();
    expect(server.requests).toBe(0);
    expect(heard.ends.at(-1)).toBe('unreachable');
    expect(await outbox.withdraw('a')).toBe(true);
  });

  it('keeps the order of different things: a burn is begun before its taps arrive', async () => {
    server.fail = away;
    const outbox = await open();
    await outbox.add({ id: 'b1', kind: 'burn', burn: 'b1', method: 'POST', path: 'burns', body: { id: 'b1' } });
    await outbox.add(tap('t1'));
    await outbox.add(tap('t2', 'b2'));
    await outbox.flush();
    server.fail = null;
    await outbox.flush();
    expect(server.order).toEqual(['burns', 't1', 't2']);
  });

  it('is one sender, however often it is asked', async () => {
    const outbox = await open();
    await outbox.add(tap('a'));
    await Promise.all([outbox.flush(), outbox.flush(), outbox.flush()]);
    expect(server.order).toEqual(['a']);
    expect(heard.deliveredIds).toEqual(['a']);
  });
});

it('falls back to memory where the browser keeps nothing, and says so', async () => {
  globalThis.indexedDB = { open: () => { throw new Error('forbidden'); } } as unknown as IDBFactory;
  const passing = await openKeep();
  expect(passing.lasting).toBe(false);
  await passing.add(tap('a'));
  expect((await passing.outgoing()).map((row) => row.id)).toEqual(['a']);
});

it('makes identifiers that the contract takes and that differ', () => {
  const many = new Set(Array.from({ length: 1000 }, newId));
  expect(many.size).toBe(1000);
  for (const id of many) expect(id).toMatch(/^[A-Za-z0-9]{22}$/);
});
