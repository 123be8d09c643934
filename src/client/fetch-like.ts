export interface FetchRequest {
  readonly method: 'GET' | 'POST';
  readonly headers: Record<string, string>;
  readonly body?: string;
}

export interface FetchResponse {
  readonly status: number;
  readonly headers: { get(name: string): string | null };
  text(): Promise<string>;
}

/**
 * The part of `fetch` that is used. Give it a time limit, since a request that hangs would stop the sync for good:
 * `(url, request) => fetch(url, { ...request, signal: AbortSignal.timeout(30_000) })`.
 */
export type FetchLike = (url: string, request: FetchRequest) => Promise<FetchResponse>;
