import type { DeconProtocol } from '../../../catalog/decon/decon-protocol.ts';
import type { DeconToDo } from '../../../client/equipment/decon-here.ts';
import { deconStanding } from '../../../client/equipment/decon-here.ts';
import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { labelText } from '../../../rules/decon/label-text.ts';
import type { StepToDo } from '../../../rules/decon/steps-for-unit.ts';
import { observedNow } from '../enter.ts';
import type { Crew } from '../open-crew.ts';
import { askNow } from '../questions.ts';
import { thePart } from './parts.ts';
import type { StepAnswer } from './step-answer.ts';

type Done = Extract<StepAnswer, { is: 'done' }>;

export async function beginDecon(
  crew: Crew,
  { protocol, against }: DeconToDo,
  unit: string,
  event: string,
): Promise<string> {
  const observed = await observedNow(crew);
  const set = { unit, protocol: protocol?.id, event, against, began: observed.at, observed };
  return (await crew.client.record('decon', set)).id;
}

/** A wipe-down or a rinse before the next well: nobody wraps it, and nobody reads a page about it. */
const LIGHT: readonly string[] = ['wipe-down', 'rinse'];

export function isLight({ asked, steps }: DeconToDo): boolean {
  return LIGHT.includes(asked.decon.effort) && steps.every(({ newPart }) => newPart === null);
}

/** One step, kept as soon as it is answered: a phone that drowns in the wash bucket loses one line. */
export async function keepStep(crew: Crew, decon: string, step: StepToDo, answer: Done): Promise<void> {
  const { fluid, lot, part: label } = answer;
  const type = step.newPart ?? undefined;
  const part = label === undefined ? undefined : await thePart(crew, { label, type, lot });
  const captured = await recordStep(crew, decon, step, { fluid, lot, part });
  const how = `${fluid ? ` with ${fluid}` : ''}${lot ? `, lot ${lot}` : ''}`;
  crew.say(`kept as number ${captured.sequence}: ${step.step} done${how}`);
  await askNow(crew, captured);
}

async function recordStep(crew: Crew, decon: string, { step }: StepToDo, how: Readonly<Record<string, unknown>>) {
  return crew.client.record('decon-step', { decon, step, done: true, ...how, observed: await observedNow(crew) });
}

/** Those that are always due, as they stand, said in one line. */
export async function keepAsTheyStand(crew: Crew, decon: string, steps: readonly StepToDo[], lot: string | undefined) {
  const numbers: number[] = [];
  for (const step of steps) {
    const [fluid] = step.fluids;
    const how = fluid === undefined ? {} : { fluid, lot };
    numbers.push((await recordStep(crew, decon, step, how)).sequence);
  }
  const names = steps.map(({ step }) => step.replaceAll('-', ' '));
  crew.say(`kept as numbers ${numbers[0] ?? ''} to ${numbers.at(-1) ?? ''}: ${names.join(', ')}`);
}

export async function keepLeftOut(crew: Crew, decon: string, { step }: StepToDo, why: string): Promise<void> {
  const set = { decon, step, done: false, deviation: why, observed: await observedNow(crew) };
  const captured = await crew.client.record('decon-step', set);
  crew.say(`kept as number ${captured.sequence}: ${step} left out, ${why}`);
}

/** Whether any of its steps left water that went into a drum. */
export async function leftWater(
  crew: Crew,
  decon: string,
  { steps }: { readonly steps: readonly StepToDo[] },
): Promise<boolean> {
  const { records } = await equipmentHere(crew.client);
  const done = (records.deconSteps ?? []).filter(
    ({ fields, voided }) => fields.decon === decon && fields.done && !voided,
  );
  return steps.some(({ step, isWasteToDrum }) => isWasteToDrum && done.some(({ fields }) => fields.step === step));
}

interface Ending {
  readonly label: string;
  readonly drum: string | undefined;
}

async function tagOf(
  crew: Crew,
  decon: string,
  protocol: DeconProtocol,
  { asked }: DeconToDo,
  label: string,
  ended: string,
) {
  const standing = deconStanding(await equipmentHere(crew.client), decon);
  const deviations = (standing?.findings ?? [])
    .filter(({ isDeviation }) => isDeviation)
    .map(({ sentence }) => sentence);
  return labelText({ unit: label, protocol, ended, deviations, nextClasses: asked.decon.classes });
}

async function sayWhetherClean(crew: Crew, decon: string, todo: DeconToDo, label: string): Promise<boolean> {
  const standing = deconStanding(await equipmentHere(crew.client), decon);
  for (const { sentence, isDeviation } of standing?.findings ?? [])
    crew.say(`${isDeviation ? 'deviation ' : 'missing   '}${sentence}`);
  for (const caution of isLight(todo) ? [] : (standing?.cautions ?? [])) crew.say(`mind      ${caution}`);
  if (standing?.isClean) crew.say(`clean     ${label} is clean by its record.`);
  else crew.say(`NOT CLEAN ${label} is not clean by its record. ${standing?.sentence ?? ''}`);
  return standing?.isClean ?? false;
}

/** Ends it with the drum and the text of the label, and says whether the unit is clean by it. */
export async function endDecon(crew: Crew, decon: string, todo: DeconToDo, { label, drum }: Ending): Promise<void> {
  const { protocol, further } = todo;
  if (protocol === null) return;
  const ended = crew.client.context.time.wall();
  const tag = await tagOf(crew, decon, protocol, todo, label, ended);
  const set = { ended, labelText: tag.lines.join('\n'), ...(drum ? { wasteTo: drum } : {}) };
  const captured = await crew.client.amend('decon', decon, set);
  const water = drum ? `, its water is in ${drum}` : '';
  crew.say(`kept as number ${captured.sequence}: the decon of ${label} has ended${water}`);
  const isClean = await sayWhetherClean(crew, decon, todo, label);
  if (isClean && !isLight(todo)) {
    crew.say('label     write on the bag:');
    for (const line of tag.lines) crew.say(`            ${line}`);
    crew.say(`          ${tag.wrapSentence}`);
  }
  for (const { id, title } of further)
    crew.say(`then      crew decon ${label} ${id} (${title}): against what this one does not take away`);
  await askNow(crew, captured);
}
