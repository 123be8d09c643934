/** Runs both sides of a round, one after the other. */
export type InTurn = <Own, Other>(
  own: () => Promise<Own>,
  other: () => Promise<Other>,
) => Promise<{ readonly own: Own; readonly other: Other }>;

/** Who goes first changes from round to round, so that nothing favours it: what is warm by then, or not calm yet. */
export function alternating(): InTurn {
  let rounds = 0;
  return async (own, other) => {
    rounds += 1;
    if (rounds % 2 === 1) return { own: await own(), other: await other() };
    const first = await other();
    return { own: await own(), other: first };
  };
}
