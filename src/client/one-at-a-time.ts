/** Runs what it is given one after another, in order; a failure is its caller's and does not stop the next one. */
export type OneAtATime = <Result>(work: () => Promise<Result>) => Promise<Result>;

export function oneAtATime(): OneAtATime {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const run = last.then(work);
    last = run.catch(() => undefined);
    return run;
  };
}
