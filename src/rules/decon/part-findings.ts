import type { ChangedPart } from '../../catalog/decon/decon-protocol.ts';
import { type DeconFinding, finding, notExcused } from './finding.ts';
import { type PartPutIn, type PartsGiven, partsPutIn, wasInUse } from './new-part.ts';
import { type RecordedStep, reasonOf, stepName } from './recorded-step.ts';

export function partWritten(type: ChangedPart): string {
  return type === 'o-ring-set' ? 'set of O-rings' : type.replaceAll('-', ' ');
}

function named({ id, part }: PartPutIn): string {
  return part?.label ?? part?.lot ?? id;
}

function ofPart({ step, done }: RecordedStep, type: ChangedPart, put: PartPutIn, given: PartsGiven): DeconFinding[] {
  const reason = reasonOf(done);
  const what = partWritten(type);
  // a part that is not new was not renewed
  const say = (sentence: string) => notExcused('part', step.id, sentence, reason);
  return [
    ...(wasInUse(put, given) ? [say(`The ${what} ${named(put)} was in use before: it is not new.`)] : []),
    ...(put.part && put.part.type !== type
      ? [say(`For "${stepName(step)}" a part of type ${put.part.type} is named, not a ${what}.`)]
      : []),
    ...(given.lotsRequired.includes(type) && !put.part?.lot && !done.some(({ lot }) => lot)
      ? [
          finding(
            'lot',
            step.id,
            'record',
            `The plan asks for the lot of each ${what}: that of ${named(put)} is not recorded.`,
            reason,
          ),
        ]
      : []),
  ];
}

/** Done, and neither a part nor its lot is named. */
function notNamed({ step, done }: RecordedStep, type: ChangedPart, lotsRequired: readonly string[]): DeconFinding[] {
  if (done.some(({ lot }) => lot)) return [];
  const asked = lotsRequired.includes(type) ? ' The plan asks for its lot.' : '';
  const sentence = `Which new ${partWritten(type)} was put in is not named.${asked}`;
  return [finding('part', step.id, 'record', sentence, reasonOf(done))];
}

function notPutIn({ step, leftOut }: RecordedStep, type: ChangedPart): DeconFinding {
  const sentence = `A change of parts is due: no new ${partWritten(type)} was put in.`;
  return notExcused('part', step.id, sentence, reasonOf(leftOut));
}

/** What is to be said of a step that replaces a soft part, whether by its own record or by a change of parts. */
export function partFindings(recorded: RecordedStep, type: ChangedPart, given: PartsGiven): readonly DeconFinding[] {
  const put = partsPutIn(recorded, type, given);
  if (put.length > 0) return put.flatMap((one) => ofPart(recorded, type, one, given));
  const isSaidDone = recorded.done.some(({ part }) => !part);
  return isSaidDone ? notNamed(recorded, type, given.lotsRequired) : [notPutIn(recorded, type)];
}
