import type { RecordState } from '../../protocol/record.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { readable } from '../readable.ts';
import type { ContainerRecord } from '../samples/sample-records.ts';
import { UNMEASURED_MS } from './clocks.ts';
import type { Signature } from './signatures.ts';

/** A container as it stood after a change, of every change in their order. */
export interface ContainerStep {
  readonly container: string;
  /** Null where it left the event. */
  readonly state: RecordState | null;
  /** When its device captured it, by a corrected clock; when the server took it where no device says. */
  readonly at: string;
  /** By how much that may be off; null where only the server's time is known of what a device captured. */
  readonly uncertaintyMs: number | null;
}

export const CONTENTS_ACTS = ['added', 'taken out', 'voided', 'discarded', 'dropped'] as const;

/** That a bottle came into a cooler, or is not in it any more, as the histories of bottles tell it. */
export interface ContentsChange {
  readonly container: string;
  readonly label: string;
  readonly act: (typeof CONTENTS_ACTS)[number];
  readonly at: string;
  /** By how much that may be off; null where it is not known when it was. */
  readonly uncertaintyMs: number | null;
  readonly client: string | null;
  readonly mutation: number | null;
  /** Who did it; null where no person is known. */
  readonly by: string | null;
  readonly initials: string | null;
  readonly reason: string | null;
  /** The number of the cooler from which it came, or into which it went. */
  readonly other: string | null;
}

/** How what the steps name is called. */
export interface StepNames {
  person(id: string): string | null;
  initials(id: string): string | null;
  cooler(id: string): string | null;
}

function coolerOf(state: RecordState | null | undefined): string | null {
  const { cooler } = state?.fields ?? {};
  return typeof cooler === 'string' ? cooler : null;
}

/** What was discarded or dropped stands on no custody record. */
function isIn(cooler: string, state: RecordState | null | undefined): boolean {
  if (!state || state.voided !== null || coolerOf(state) !== cooler) return false;
  return state.fields.standing === 'filled' || state.fields.standing === 'expected';
}

function actOf(cooler: string, state: RecordState | null): ContentsChange['act'] {
  if (state === null || coolerOf(state) !== cooler) return 'taken out';
  if (state.voided !== null) return 'voided';
  return state.fields.standing === 'dropped' ? 'dropped' : 'discarded';
}

/** What came into a cooler and left it; of what left for good also the bottle as it last was in there. */
export function contentsChanges(cooler: string, steps: readonly ContainerStep[], names: StepNames) {
  const before = new Map<string, RecordState | null>();
  const lastIn = new Map<string, RecordState>();
  const changes = steps.flatMap(({ container, state, at, uncertaintyMs }): ContentsChange[] => {
    const was = before.get(container) ?? null;
    const [wasIn, isInNow] = [isIn(cooler, was), isIn(cooler, state)];
    before.set(container, state);
    if (isInNow && state) lastIn.set(container, state);
    if (wasIn === isInNow) return [];
    const elsewhere = coolerOf(isInNow ? was : state);
    const person = state?.by ?? null;
    return [
      {
        container,
        label: String((state ?? was)?.fields.label ?? ''),
        act: isInNow ? 'added' : actOf(cooler, state),
        at,
        uncertaintyMs,
        client: state?.client ?? null,
        mutation: state?.mutation ?? null,
        by: person === null ? null : names.person(person),
        initials: person === null ? null : names.initials(person),
        reason: state?.reason ?? null,
        other: elsewhere === null || elsewhere === cooler ? null : names.cooler(elsewhere),
      },
    ];
  });
  const gone = [...lastIn].filter(([id]) => !isIn(cooler, before.get(id)));
  return { changes, gone: gone.map(([, state]) => readable(state) as unknown as ContainerRecord) };
}

export interface AfterSigning {
  readonly change: ContentsChange;
  readonly signature: Signature;
}

/** What is compared with signatures. */
export type Written = Pick<ContentsChange, 'at' | 'uncertaintyMs' | 'client' | 'mutation'>;

/** Two clocks that nobody measured differ from each other by no more than one of them may be off. */
function togetherMs(one: number, other: number): number {
  return Math.min(one + other, Math.max(one, other, UNMEASURED_MS));
}

/**
 * What one client wrote down before it wrote the signature came before it, whatever its clock said. Of two clocks nothing is
 * known of an order that is within what both may be off by.
 */
export function isBefore(signature: Signature, { at, uncertaintyMs, client, mutation }: Written): boolean {
  const { sinceMs, untilMs } = signature;
  const isOneClient = client !== null && client === signature.client;
  if (isOneClient && (mutation ?? 0) < (signature.mutation ?? 0)) return false;
  // a phone without a signal may have captured it long before it was heard of
  if (uncertaintyMs === null) return false;
  const ms = instantMs(at);
  const offMs = isOneClient ? 0 : togetherMs(signature.uncertaintyMs, uncertaintyMs);
  return sinceMs + offMs < ms && (untilMs === null || ms + offMs <= untilMs);
}

/** What changed after somebody signed for it, each with the last signature before it. */
export function afterSigning(
  contents: readonly ContentsChange[],
  signatures: readonly Signature[],
): readonly AfterSigning[] {
  return contents.flatMap((change): AfterSigning[] => {
    const before = signatures.filter((one) => isBefore(one, change));
    const [signature] = before.toSorted((a, b) => b.sinceMs - a.sinceMs || (a.record < b.record ? -1 : 1));
    return signature ? [{ change, signature }] : [];
  });
}
