// What this device keeps: the last copy of every document, and what waits to be sent. IndexedDB;
// where a browser forbids it, memory, and `lasting` says so.

export interface KeptDocument {
  value: unknown;
  /** When the server gave it, ms since 1970. */
  at: number;
}

/** One thing to tell the server, in the order in which it was written down. */
export interface Outgoing {
  seq: number;
  /** The tap's, burn's, pit's or entry's own identifier. */
  id: string;
  kind: 'tap' | 'undo' | 'burn' | 'change' | 'pit' | 'entry';
  burn: string | null;
  method: 'POST' | 'PUT' | 'PATCH';
  path: string;
  body: unknown;
  /** Attempts that may have reached the server. */
  tries: number;
  /** The server's sentence, where it said no for good. */
  refused: string | null;
}

export type NewOutgoing = Omit<Outgoing, 'seq' | 'tries' | 'refused'>;

export interface Keep {
  readonly lasting: boolean;
  document(key: string): Promise<KeptDocument | null>;
  putDocument(key: string, kept: KeptDocument): Promise<void>;
  outgoing(): Promise<Outgoing[]>;
  add(entry: NewOutgoing): Promise<Outgoing>;
  update(entry: Outgoing): Promise<void>;
  remove(seq: number): Promise<void>;
}

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('the browser could not keep it'));
  });
}

/** Resolves when it is on disk, not merely asked for. */
function committed(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error('the browser could not keep it'));
  });
}

function strict(database: IDBDatabase, store: string): IDBTransaction {
  return database.transaction(store, 'readwrite', { durability: 'strict' });
}

class LastingKeep implements Keep {
  readonly lasting = true;
  constructor(private readonly database: IDBDatabase) {}

  async document(key: string): Promise<KeptDocument | null> {
    const store = this.database.transaction('documents').objectStore('documents');
    return ((await done(store.get(key))) as KeptDocument | undefined) ?? null;
  }

  async putDocument(key: string, kept: KeptDocument): Promise<void> {
    const transaction = this.database.transaction('documents', 'readwrite');
    transaction.objectStore('documents').put(kept, key);
    await committed(transaction);
  }

  outgoing(): Promise<Outgoing[]> {
    return done(this.database.transaction('outbox').objectStore('outbox').getAll() as IDBRequest<Outgoing[]>);
  }

  async add(entry: NewOutgoing): Promise<Outgoing> {
    const transaction = strict(this.database, 'outbox');
    const row = { ...entry, tries: 0, refused: null };
    const key = done(transaction.objectStore('outbox').add(row));
    await committed(transaction);
    return { ...row, seq: Number(await key) };
  }

  async update(entry: Outgoing): Promise<void> {
    const transaction = strict(this.database, 'outbox');
    transaction.objectStore('outbox').put(entry);
    await committed(transaction);
  }

  async remove(seq: number): Promise<void> {
    const transaction = strict(this.database, 'outbox');
    transaction.objectStore('outbox').delete(seq);
    await committed(transaction);
  }
}

class PassingKeep implements Keep {
  readonly lasting = false;
  private readonly documents = new Map<string, KeptDocument>();
  private rows: Outgoing[] = [];
  private last = 0;

  async document(key: string) {
    return this.documents.get(key) ?? null;
  }
  async putDocument(key: string, kept: KeptDocument) {
    this.documents.set(key, kept);
  }
  async outgoing() {
    return [...this.rows];
  }
  async add(entry: NewOutgoing) {
    const row: Outgoing = { ...entry, seq: ++this.last, tries: 0, refused: null };
    this.rows.push(row);
    return row;
  }
  async update(entry: Outgoing) {
    this.rows = this.rows.map((row) => (row.seq === entry.seq ? entry : row));
  }
  async remove(seq: number) {
    this.rows = this.rows.filter((row) => row.seq !== seq);
  }
}

function create(database: IDBDatabase) {
  database.createObjectStore('documents');
  database.createObjectStore('outbox', { keyPath: 'seq', autoIncrement: true });
}

/** Opens this device's keep; never fails. */
export async function openKeep(name = 'pitwright'): Promise<Keep> {
  try {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => create(request.result);
    return new LastingKeep(await done(request));
  } catch {
    return new PassingKeep();
  }
}
