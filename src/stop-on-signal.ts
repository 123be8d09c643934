const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** The terminal sends Ctrl-C to every process, and those that started this one may pass it on a moment later. */
const ECHO_MS = 1_500;
const LONGEST_STOP_MS = 15_000;

/**
 * Stops in order when asked by a signal and then exits with 0. Asked once more, a while later, it exits at once.
 *
 * @param stop called once
 */
export function stopOnSignal(stop: () => Promise<void>): void {
  let askedMs: number | null = null;
  const asked = (): void => {
    const nowMs = performance.now();
    if (askedMs !== null) {
      if (nowMs - askedMs > ECHO_MS) process.exit(1);
      return;
    }
    askedMs = nowMs;
    setTimeout(() => process.exit(1), LONGEST_STOP_MS).unref();
    stop().then(
      () => process.exit(0),
      (error: unknown) => {
        process.stderr.write(`It did not stop in order: ${error instanceof Error ? error.message : String(error)}\n`);
        process.exit(1);
      },
    );
  };
  for (const signal of SIGNALS) process.on(signal, asked);
}
