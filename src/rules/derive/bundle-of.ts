import type { RecordState } from '../../protocol/record.ts';
import type { Held, World } from '../held.ts';
import { supersededValues } from '../merge/merge-memory.ts';
import { readable, wasReadable } from '../readable.ts';
import type { PurgeBundle, VisitBundle } from '../visit-bundle.ts';

type Loose = RecordState<never>;

function stateOf({ state }: Held): Loose {
  return readable(state) as Loose;
}

function statesOf(held: readonly Held[], kind: string): Loose[] {
  return held.filter((one) => one.state.kind === kind).map(stateOf);
}

function purgeBundle(purge: Held, all: readonly Held[]): PurgeBundle {
  const inside = all.filter((held) => held.parent === purge.state.id);
  return {
    purge: stateOf(purge),
    readings: statesOf(inside, 'reading'),
    occurrences: statesOf(inside, 'occurrence'),
    calls: statesOf(inside, 'call'),
  };
}

const UNIT_FIELDS = ['pump', 'flowCell', 'meter', 'tape'];

/** The units that the records of a visit name; its summary only repeats one, and may be out of date. */
export function unitIds(held: readonly Held[]): string[] {
  const ids = new Set<string>();
  for (const { state } of held) {
    if (state.kind === 'visit-summary') continue;
    for (const field of UNIT_FIELDS) {
      // what can be read is never more than what is there, and most records name no unit
      if (typeof state.fields[field] !== 'string') continue;
      const id = readable(state).fields[field];
      if (typeof id === 'string') ids.add(id);
    }
  }
  return [...ids];
}

function superseded(held: readonly Held[]): VisitBundle['superseded'] {
  const values = held.flatMap(({ state, memory }) => {
    const fields = memory ? [...supersededValues(memory)] : [];
    const read = fields.map(
      ([field, all]) => [field, all.filter((value) => wasReadable(state, field, value))] as const,
    );
    return [[state.id, new Map(read.filter(([, all]) => all.length > 0))] as const];
  });
  return new Map(values.filter(([, fields]) => fields.size > 0));
}

/** Gathers what a visit's assessments and flags are derived from; undefined where a part is not loaded. */
export function bundleOf(visitId: string, world: World): VisitBundle | undefined {
  const visit = world.get(visitId);
  const event = world.get(String(visit?.state.fields.event));
  const well = world.get(String(visit?.state.fields.well));
  if (!visit || !event || !well) return undefined;
  const all = world.ofVisit(visitId);
  const nest = well.state.fields.nest;
  const nestWells = typeof nest === 'string' ? world.wellsOfNest(nest).filter((one) => one !== well) : [];
  const units = unitIds(all).flatMap((id) => world.get(id) ?? []);
  return {
    event: stateOf(event),
    visit: stateOf(visit),
    well: stateOf(well),
    nestWells: statesOf(nestWells, 'well'),
    measuringPoints: statesOf(world.under(well.state.id), 'measuring-point'),
    levels: statesOf(all, 'water-level'),
    soundings: statesOf(all, 'sounding'),
    setUps: statesOf(all, 'pump-set-up'),
    samples: statesOf(all, 'sample'),
    uses: statesOf(all, 'unit-use'),
    purges: all.filter((held) => held.state.kind === 'purge').map((purge) => purgeBundle(purge, all)),
    units: new Map(units.map((unit) => [unit.state.id, stateOf(unit)])),
    superseded: superseded(all),
  };
}
