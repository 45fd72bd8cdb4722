// A stand-in for `pitwright serve`, for working on the screens and for tests of the browser's side
// where no built server is at hand. It keeps taps and pits in memory, and answers with the golden
// call of the C++ tests and with made-up states and pictures in the contract's shapes. Nothing it
// says is computed: never show its numbers as pitwright's.
//
//   node dev/fixture_server.mjs [--port 8650] [--token WORD] [--role look|tap|own] [--empty] [--root dist]
// WEB_DIST names the built app where --root does not.
import { createReadStream, existsSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { burnOf, callOf, fireOf, latestOf, layOf, pitOf, samplesOf, burnLines } from './fixture_burn.mjs';
import { bookOf, rulesOf } from './fixture_book.mjs';
import { pictureOf } from './fixture_pictures.mjs';

export const policy = [
  "default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data:", "connect-src 'self'",
  "manifest-src 'self'", "worker-src 'self'", "base-uri 'none'", "form-action 'self'", "frame-ancestors 'none'",
].join('; ');

const types = {
  '.html': 'text/html; charset=utf-8', '.js': 'text/javascript; charset=utf-8', '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml', '.webmanifest': 'application/manifest+json',
};

class Said extends Error {
  constructor(status, kind, text) {
    super(text);
    this.status = status;
    this.kind = kind;
  }
}

/** Starts it; gives { url, state, close }. Port 0: any free one. */
export async function startFixture({ port = 0, token = null, role = 'own', empty = false, root = process.env.WEB_DIST ?? 'dist' } = {}) {
  const state = {
    burns: empty ? [] : burnLines(), taps: [], entries: [], pits: empty ? [] : [pitOf()], begun: [],
    asked: [], fire: {}, viewers: new Set(), down: false, refuse: null,
  };
  const folder = resolve(fileURLToPath(new URL('..', import.meta.url)), root);
  const server = createServer((request, response) => {
    if (state.down) return request.socket.destroy();
    handle(request, response).catch((failure) => {
      const status = failure.status ?? 500;
      json(response, { error: { kind: failure.kind ?? 'store', text: failure.message } }, status);
    });
  });

  async function handle(request, response) {
    const url = new URL(request.url, 'http://x');
    state.asked.push(`${request.method} ${url.pathname}${url.search}`);
    if (!url.pathname.startsWith('/api/')) return file(url.pathname, response);
    const path = url.pathname.slice('/api/'.length).split('/').map(decodeURIComponent);
    const body = await bodyOf(request);
    if (path[0] === 'enter') return enter(body, response);
    if (token !== null && !(request.headers.cookie ?? '').includes('pitwright=in')) {
      throw new Said(401, 'not_allowed', 'This server wants a token.');
    }
    if (path[0] === 'burns' && path[2] === 'live') return live(path[1], url, response);
    const answer = await api(request.method, path, url.searchParams, body);
    if (typeof answer === 'string') {
      response.writeHead(200, { 'Content-Type': /^(<\?xml[^>]*>\s*)?<svg/.test(answer) ? 'image/svg+xml' : 'text/html; charset=utf-8' });
      return response.end(answer);
    }
    json(response, answer ?? null, answer === null ? 204 : 200);
  }

  function enter(body, response) {
    if (body?.token !== token) throw new Said(401, 'not_allowed', 'This token is not known.');
    response.setHeader('Set-Cookie', 'pitwright=in; HttpOnly; SameSite=Strict; Path=/');
    json(response, { name: 'Sam', role });
  }

  function may(needed) {
    const rank = { look: 0, tap: 1, own: 2 };
    if (rank[role] < rank[needed]) throw new Said(403, 'not_allowed', `Sam may ${role}; this needs ${needed}.`);
  }

  async function api(method, path, query, body) {
    const unit = query.get('unit') ?? 'F';
    switch (path[0]) {
      case 'health':
        return { status: 'ok', version: '0.1.0', burns: state.burns.length };
      case 'me':
        return { name: 'Sam', role };
      case 'leave':
        return null;
      case 'demo':
        may('own');
        state.burns = burnLines();
        state.pits = [pitOf()];
        return burnOf(body.live ? 'demo-live' : 'demo', unit, state.taps);
      case 'rules':
        return rulesOf();
      case 'pits':
        return pits(method, path[1], body);
      case 'burns':
        return path.length === 1 ? burns(method, body) : burn(method, path.slice(1), query, unit, body);
      default:
        throw new Said(404, 'not_found', 'There is nothing at this address.');
    }
  }

  function pits(method, id, body) {
    if (method === 'GET') return id ? (state.pits.find((one) => one.id === id) ?? missing('pit')) : state.pits;
    may('own');
    state.pits = [...state.pits.filter((one) => one.id !== id), body];
    return body;
  }

  function burns(method, body) {
    if (method === 'GET') return state.burns;
    may('own');
    state.begun.push(body);
    return burnOf(body.id, body.unit, []);
  }

  function burn(method, [id, what, name, last], query, unit, body) {
    const known = state.burns.some((one) => one.id === id) || state.begun.some((one) => one.id === id);
    if (!known) return missing('burn');
    const finished = id === 'demo';
    switch (what) {
      case undefined:
        return burnOf(id, unit, state.taps.filter((tap) => tap.burn === id));
      case 'fire':
        return { ...fireOf(unit, finished), ...state.fire };
      case 'call':
        return callOf(unit, query.get('without_spot'), query.get('without_stint'));
      case 'lay':
        return layOf(unit, query);
      case 'pictures':
        return pictureOf(name, query, callOf(unit, query.get('without_spot'), null));
      case 'samples':
        return samplesOf(unit);
      case 'sheet':
        return '<!doctype html><title>Show sheet</title><h1>Show sheet (fixture)</h1>';
      case 'book':
        return book(method, id, unit, body);
      case 'taps':
        return taps(method, id, name, last, body);
      default:
        return missing('document');
    }
  }

  function book(method, id, unit, body) {
    // Only the finished burn has food in it.
    if (id !== 'demo') throw new Said(404, 'not_found', `no piece of food is told of in '${id}'`);
    if (method === 'POST') {
      may('tap');
      if (state.refuse !== null) throw new Said(400, 'bad_input', state.refuse);
      for (const one of body) if (!state.entries.some((known) => known.id === one.id)) state.entries.push(one);
    }
    return bookOf(unit, state.entries);
  }

  function taps(method, burnId, tapId, undo, body) {
    if (method === 'GET') return state.taps.filter((tap) => tap.burn === burnId);
    may('tap');
    if (state.refuse !== null) throw new Said(400, 'bad_input', state.refuse);
    if (undo === 'undo') {
      const tap = state.taps.find((one) => one.id === tapId) ?? missing('tap');
      tap.undone = true;
      tell('changed', { documents: ['burn', 'call'] });
      return tap;
    }
    const blank = { until: null, setting: null, spot: null, text: null, value: null, by: 'Sam', undone: false };
    for (const tap of body) {
      if (tap.what === 'reading' && !/ [FC]$/.test(tap.value ?? '')) {
        throw new Said(400, 'bad_input', 'The reading has no unit: write it as "263 F".');
      }
      if (!state.taps.some((one) => one.id === tap.id)) state.taps.push({ ...blank, ...tap, burn: burnId });
    }
    tell('changed', { documents: ['burn', 'call'] });
    return state.taps.filter((tap) => body.some((one) => one.id === tap.id));
  }

  function tell(name, data) {
    for (const viewer of state.viewers) viewer.write(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`);
  }

  function live(id, url, response) {
    response.writeHead(200, { 'Content-Type': 'text/event-stream', 'Cache-Control': 'no-store' });
    const unit = url.searchParams.get('unit') ?? 'F';
    const beat = () => response.write(`event: latest\ndata: ${JSON.stringify(latestOf(unit))}\n\n`);
    response.write(`event: fire\ndata: ${JSON.stringify({ ...fireOf(unit, id === 'demo'), ...state.fire })}\n\n`);
    beat();
    const timer = setInterval(beat, 2000);
    state.viewers.add(response);
    response.on('close', () => {
      clearInterval(timer);
      state.viewers.delete(response);
    });
  }

  function file(path, response) {
    const safe = normalize(path).replace(/^(\.\.[/\\])+/, '');
    const found = join(folder, safe === '/' ? 'index.html' : safe);
    if (!existsSync(found) || !statSync(found).isFile()) throw new Said(404, 'not_found', 'There is no such file.');
    response.writeHead(200, { 'Content-Type': types[extname(found)] ?? 'application/octet-stream', 'Content-Security-Policy': policy });
    createReadStream(found).pipe(response);
  }

  await new Promise((resolve) => server.listen(port, '127.0.0.1', resolve));
  return {
    url: `http://127.0.0.1:${server.address().port}/`,
    state,
    tell,
    close: () => {
      server.closeAllConnections();
      return new Promise((resolve) => server.close(resolve));
    },
  };
}

function missing(what) {
  throw new Said(404, 'not_found', `There is no such ${what}.`);
}

function json(response, value, status = 200) {
  response.writeHead(status, { 'Content-Type': 'application/json', 'Cache-Control': 'no-store' });
  response.end(value === null && status === 204 ? undefined : JSON.stringify(value));
}

async function bodyOf(request) {
  const parts = [];
  for await (const part of request) parts.push(part);
  const text = Buffer.concat(parts).toString('utf8');
  return text === '' ? null : JSON.parse(text);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { values } = parseArgs({
    options: {
      port: { type: 'string', default: '8650' }, token: { type: 'string' }, role: { type: 'string', default: 'own' },
      empty: { type: 'boolean', default: false }, root: { type: 'string', default: 'dist' },
    },
  });
  const fixture = await startFixture({ ...values, port: Number(values.port), token: values.token ?? null });
  console.log(`fixture server (nothing it says is computed): ${fixture.url}`);
}
