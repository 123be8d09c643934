/**
 * The first statements of a transaction follow its opening without waiting for the answer. Where the opening fails,
 * they fail as well, and it is the one that says why.
 */
export async function afterOpening<Result>(opening: Promise<unknown>, work: Promise<Result>): Promise<Result> {
  const [opened, done] = await Promise.allSettled([opening, work]);
  if (opened.status === 'rejected') throw opened.reason;
  if (done.status === 'rejected') throw done.reason;
  return done.value;
}
