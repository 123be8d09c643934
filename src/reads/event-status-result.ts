/** Where a well stands in an event. */
export const WELL_STANDINGS = ['not-started', 'claimed', 'gauging', 'purging', 'stable', 'sampled', 'ended'] as const;
export type WellStanding = (typeof WELL_STANDINGS)[number];

/** A record by its id and the name by which people know it. */
export interface Named {
  readonly id: string;
  readonly name: string;
}

export interface WellStatus {
  readonly id: string;
  readonly name: string;
  /** A crew was assigned to it; false where it was only visited or claimed. */
  readonly planned: boolean;
  /** Samples are expected, not only a level. */
  readonly toSample: boolean;
  readonly assignedTo: readonly Named[];
  readonly standing: WellStanding;
  /** When this standing began, in UTC; for stable, when the criteria were first met. */
  readonly since: string | null;
  /** The crew at work there, or that worked there last. */
  readonly crew: Named | null;
  /** The crews that have taken it and not given it back. */
  readonly claimedBy: readonly Named[];
  readonly visit: string | null;
  readonly purge: string | null;
  /** How the visit ended, and why, in the words of the crew. */
  readonly outcome: string | null;
  readonly outcomeReason: string | null;
  readonly samples: number;
  readonly openFlags: number;
}

export interface DeviceStatus {
  readonly id: string;
  readonly label: string;
  readonly lastPush: string | null;
  readonly lastPull: string | null;
  /** When it came back with an older memory than the server has of it, or as one of two that run on a copy. */
  readonly cameBackAt: string | null;
  readonly unsentCount: number | null;
  readonly unsentOldest: string | null;
  /** Server time minus device time, at its last push. */
  readonly clockDifferenceMs: number | null;
  readonly setAside: SetAsideCounts;
}

export interface CrewStatus {
  readonly id: string;
  readonly name: string;
  /** Of its devices, the latest. */
  readonly lastPush: string | null;
  readonly lastPull: string | null;
  /** What its devices said at their last push that they still held; null where none said. */
  readonly unsentCount: number | null;
  readonly unsentOldest: string | null;
  /** Of its devices, the one that is furthest off. */
  readonly clockDifferenceMs: number | null;
  readonly setAside: SetAsideCounts;
  readonly devices: readonly DeviceStatus[];
}

/** Mutations that were not applied but kept as they came. */
export interface SetAsideCounts {
  /** For another record to arrive. */
  readonly waiting: number;
  readonly forAPerson: number;
  /** They mean nothing, and are only kept. */
  readonly refused: number;
}

export interface FlagCount {
  readonly addressee: string;
  readonly severity: string;
  readonly count: number;
}

export interface ConflictCount {
  readonly type: string;
  readonly certainty: string;
  readonly count: number;
}

export interface WellTotals {
  readonly planned: number;
  readonly unplanned: number;
  readonly notStarted: number;
  readonly claimed: number;
  readonly gauging: number;
  readonly purging: number;
  readonly stable: number;
  readonly sampled: number;
  readonly ended: number;
}

export interface EventTotals {
  readonly wells: WellTotals;
  readonly visits: number;
  readonly samples: number;
  readonly openFlags: number;
  readonly openConflicts: number;
  readonly unsent: number;
  readonly setAside: SetAsideCounts;
}

/** How an event stands. */
export interface EventStatus {
  readonly event: {
    readonly id: string;
    readonly name: string;
    readonly standing: string;
    readonly starts: string;
    readonly ends: string;
  };
  readonly site: Named & { readonly timeZone: string };
  readonly totals: EventTotals;
  readonly wells: readonly WellStatus[];
  readonly crews: readonly CrewStatus[];
  readonly flags: readonly FlagCount[];
  readonly conflicts: readonly ConflictCount[];
}
