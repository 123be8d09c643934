import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import { listText } from '../flags/list-text.ts';
import { classesOfSuites, classWritten, inClassOrder } from './classes-of-suites.ts';
import type { WellLeft, WellNamed, WellNext } from './decon-unit.ts';
import type { WaterContact } from './gear-of-unit.ts';

export interface RequiredClasses {
  /** What must be cleaned off, or must not be brought along. */
  readonly classes: readonly ContaminantClass[];
  readonly reasons: readonly string[];
  readonly notKnown: readonly string[];
}

const PRESUMED = ['organics', 'inorganics'] as const;

function ofLeft(left: WellLeft, named: WellNamed): Omit<RequiredClasses, 'reasons'> {
  if (left.contaminants) return { classes: left.contaminants, notKnown: [] };
  const where = left.well ? `What ${named(left.well)} holds` : 'What it met last';
  return {
    classes: PRESUMED,
    notKnown: [`${where} is not known: it is treated as after organics and inorganics. Give the classes of the well.`],
  };
}

function ofNext(next: WellNext): Omit<RequiredClasses, 'reasons'> {
  const { classes, unknown } = classesOfSuites(next.suites ?? []);
  if (!next.suites?.length)
    return { classes, notKnown: ['Which suites come next is not known: PFAS are not thought of.'] };
  return {
    classes,
    notKnown: unknown.map((suite) => `What the suite ${suite} asks for is not known here: no class is added for it.`),
  };
}

/** A cell is off the line before the first bottle, so what it carries reaches no sample for PFAS. */
function reaches(contact: WaterContact, one: ContaminantClass): boolean {
  return one !== 'pfas' || (contact !== 'meter' && contact !== 'flow-cell');
}

/** What a cleaning must be good for: what the last well may have left, and what the next samples would show. */
export function requiredClasses(
  contact: WaterContact,
  left: WellLeft,
  next: WellNext,
  named: WellNamed = (well) => well,
): RequiredClasses {
  const [before, after] = [ofLeft(left, named), ofNext(next)];
  const asked = inClassOrder([...before.classes, ...after.classes]);
  const classes = asked.filter((one) => reaches(contact, one));
  const dropped = asked.length > classes.length;
  return {
    classes,
    reasons: [
      ...(classes.length > 0 ? [`It must be clean of ${listText(classes.map(classWritten))}.`] : []),
      ...(dropped
        ? [
            'PFAS are left out for it: meter and cell are off the line before the first bottle (common practice, no source).',
          ]
        : []),
    ],
    notKnown: [...before.notKnown, ...after.notKnown],
  };
}
