/**
 * The part of IndexedDB (W3C, Indexed Database API 3.0) that is used, so that the library compiles without a browser:
 * give it `window`.
 */
export interface IdbRequest<Result> {
  readonly result: Result;
  readonly error: { readonly name: string; readonly message: string } | null;
  addEventListener(type: string, listener: () => void): void;
}

export interface IdbOpenRequest extends IdbRequest<IdbDatabase> {}

export interface IdbIndex {
  getAll(query: unknown): IdbRequest<unknown[]>;
}

export interface IdbObjectStore {
  get(key: unknown): IdbRequest<unknown>;
  getAll(query?: unknown): IdbRequest<unknown[]>;
  put(value: unknown): IdbRequest<unknown>;
  delete(key: unknown): IdbRequest<unknown>;
  clear(): IdbRequest<unknown>;
  index(name: string): IdbIndex;
  createIndex(name: string, keyPath: string): unknown;
}

export interface IdbTransaction {
  readonly error: { readonly name: string; readonly message: string } | null;
  objectStore(name: string): IdbObjectStore;
  abort(): void;
  addEventListener(type: string, listener: () => void): void;
}

export interface IdbDatabase {
  createObjectStore(name: string, options: { keyPath: string | string[] }): IdbObjectStore;
  transaction(
    names: string[],
    mode: 'readonly' | 'readwrite',
    options?: { durability: 'strict' | 'relaxed' },
  ): IdbTransaction;
  close(): void;
  addEventListener(type: string, listener: () => void): void;
}

export interface IdbFactory {
  open(name: string, version: number): IdbOpenRequest;
}

/** The two names of the web's API; a browser's `window` has them. */
export interface IdbApi {
  readonly indexedDB: IdbFactory;
  readonly IDBKeyRange: { bound(lower: unknown, upper: unknown): unknown };
}
