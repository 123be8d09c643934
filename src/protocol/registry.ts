/** One entry a code: what it means, what brings it about, and what to do. Served at GET /v1/problems. */
export interface CodeEntry {
  readonly status: number;
  readonly title: string;
  readonly cause: string;
  readonly remedy: string;
}
