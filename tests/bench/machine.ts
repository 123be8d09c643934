import os from 'node:os';

/** Where the numbers were found: they compare only within one run. */
export interface Machine {
  readonly processor: string;
  readonly processors: number;
  readonly memoryGiB: number;
  readonly system: string;
  readonly node: string;
  readonly postgres: string;
  /** What others kept the machine busy with before the run began. */
  readonly load: string;
}

export function thisMachine(postgres: string): Machine {
  return {
    processor: os.cpus()[0]?.model.trim() || 'processor of unknown type',
    processors: os.availableParallelism(),
    memoryGiB: Math.round(os.totalmem() / 2 ** 30),
    system: `${os.type()} ${os.release()}`,
    node: process.versions.node,
    postgres,
    load: (os.loadavg()[0] ?? 0).toFixed(2),
  };
}
