import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { assessPurge } from '../assessment/assess-purge.ts';
import type { AssessmentInput } from '../assessment/assessment-input.ts';
import { derivedId } from '../derived-id.ts';
import type { RaisedFlag } from '../flags/raised-flag.ts';
import { visitFlags } from '../flags/visit-flags.ts';
import type { Held, World } from '../held.ts';
import type { PurgeBundle, VisitBundle } from '../visit-bundle.ts';
import { bundleOf } from './bundle-of.ts';
import type { Derived } from './derived.ts';
import { fieldConflicts } from './field-conflicts.ts';
import { flagDerived } from './flag-derived.ts';
import { summaryDerived } from './summary-derived.ts';

/** The kinds that are derived from a visit and what belongs to it. */
export const VISIT_DERIVED = ['assessment', 'flag', 'conflict', 'visit-summary'];

/** What a purge of a visit is assessed from, and its going on foreseen. */
export function assessmentInputOf(bundle: VisitBundle, purge: PurgeBundle): AssessmentInput {
  const { event, visit, well, levels, setUps, units } = bundle;
  return { ...purge, plan: event.fields.plan, visit, well, levels, setUps, units };
}

function assess(bundle: VisitBundle, purge: PurgeBundle): AssessmentFields {
  return assessPurge(assessmentInputOf(bundle, purge));
}

/** A purge that was voided, or belongs to a voided visit, is not assessed. */
function standing(bundle: VisitBundle): readonly PurgeBundle[] {
  return bundle.visit.voided ? [] : bundle.purges.filter(({ purge }) => purge.voided === null);
}

function assessAll(bundle: VisitBundle): ReadonlyMap<string, AssessmentFields> {
  return new Map(standing(bundle).map((purge) => [purge.purge.id, assess(bundle, purge)]));
}

function assessmentDerived(firm: string, purge: Held, fields: AssessmentFields): Derived {
  const { id } = purge.state;
  const place = { feed: purge.feed, parent: id, visit: purge.visit };
  return { kind: 'assessment', id: derivedId(firm, 'assessment', id), fields, ...place };
}

/** The rules of a visit raise their flags about the visit or a record of it, which the flag then lies beside. */
function flagsOf(firm: string, flags: readonly RaisedFlag[], visit: Held, world: World): Derived[] {
  const subjects = [visit, ...world.ofVisit(visit.state.id)];
  return flags.flatMap((flag) => {
    const about = subjects.filter((held) => held.state.id === flag.subject);
    return about.map((subject) => flagDerived(firm, flag, { subject, visit }, world));
  });
}

/**
 * All that follows from a visit: an assessment for each purge, the flags, the conflicts of fields, and once it has ended
 * its summary. It depends on what the records say, never on the order in which they arrived.
 */
export function visitDerived(firm: string, visitId: string, world: World): readonly Derived[] {
  const visit = world.get(visitId);
  const well = world.get(String(visit?.state.fields.well));
  const bundle = bundleOf(visitId, world);
  if (!visit || !well || !bundle) return [];
  const assessed = assessAll(bundle);
  const all = world.ofVisit(visitId);
  const assessments = all.flatMap((held) => {
    const fields = assessed.get(held.state.id);
    return fields ? [assessmentDerived(firm, held, fields)] : [];
  });
  const conflicts = [visit, ...all].flatMap((held) => fieldConflicts(firm, held, String(well.state.fields.name)));
  const flags = flagsOf(firm, visitFlags(bundle, assessed, assessAll), visit, world);
  return [...assessments, ...flags, ...conflicts, ...summaryDerived(firm, bundle, well, assessed)];
}
