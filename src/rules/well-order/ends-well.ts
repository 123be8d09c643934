interface Visited {
  readonly method: string;
  readonly outcome?: string | null | undefined;
}

/** Nobody came as far as the water: the well waits for another day. */
const NOT_REACHED: readonly string[] = ['no-access', 'abandoned'];

/** A round of levels, as it is made over all wells before the sampling. */
export function isOnlyGauged({ method, outcome }: Visited): boolean {
  return method === 'gauging' && outcome === 'gauged-only';
}

/** Whether a visit that the crew has left ends a well for its event, so that nobody has to come back in it. */
export function endsWell(visit: Visited, toSample: boolean): boolean {
  const { method, outcome } = visit;
  if (NOT_REACHED.includes(outcome ?? '')) return false;
  return !toSample || !(isOnlyGauged(visit) || (method === 'gauging' && !outcome));
}
