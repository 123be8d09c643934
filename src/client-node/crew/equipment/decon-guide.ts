import { DECON_PROTOCOL_IDS } from '../../../catalog/decon/decon-protocol.ts';
import { type DeconToDo, deconToDo } from '../../../client/equipment/decon-here.ts';
import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { classWritten } from '../../../rules/decon/classes-of-suites.ts';
import type { StepToDo } from '../../../rules/decon/steps-for-unit.ts';
import { listText } from '../../../rules/flags/list-text.ts';
import { CrewError } from '../crew-error.ts';
import { field, live, theEvent } from '../find.ts';
import type { Crew } from '../open-crew.ts';
import { pairsIn } from '../pairs.ts';
import type { Keys } from '../reading-mode.ts';
import { mustBeReady } from '../ready.ts';
import { type TypedLines, typedLines } from '../typed-lines.ts';
import { askWhoHas } from './asked-first.ts';
import { beginDecon, endDecon, isLight, keepAsTheyStand, keepLeftOut, keepStep, leftWater } from './decon-record.ts';
import { stepAnswer } from './step-answer.ts';
import { theUnit } from './the-unit.ts';

export const DECON_USAGE = 'decon UNIT [PROTOCOL] [suites=VOC,PFAS] [drum=LABEL] [lot=..] [--done]';

export interface DeconKeys {
  readonly keys: Keys;
  readonly write: (text: string) => void;
  /** All of it was done as it stands: one word for a tape or a meter. */
  readonly isDone: boolean;
}

interface Guided {
  readonly crew: Crew;
  readonly todo: DeconToDo;
  readonly decon: string;
  readonly lines: TypedLines;
  /** The lot of each fluid, as it was said last: a bottle serves several steps. */
  readonly lots: Map<string, string>;
}

const isDueAlways = ({ when }: StepToDo) => when === null;

function sayStep({ crew, todo }: Guided, step: StepToDo): void {
  const place = todo.count - todo.steps.length + todo.steps.indexOf(step) + 1;
  const times = step.times > 1 ? ` At least ${step.times} times.` : '';
  crew.say(`${place}/${todo.count}  ${step.action}${times}`);
  if (step.when !== null) crew.say(`     only where ${step.when}`);
  if (step.fluids.length === 1) crew.say(`     with ${step.fluids[0]}${step.strength ? `, ${step.strength}` : ''}`);
  if (step.fluids.length > 1) crew.say(`     with ${step.fluids.map((fluid, at) => `${at + 1}) ${fluid}`).join('  ')}`);
  for (const caution of step.cautions) crew.say(`     MIND ${caution}`);
}

function promptOf({ todo }: Guided, step: StepToDo): string {
  if (step.newPart !== null) return '     what is written on the new one, lot=..; or n REASON; help > ';
  const lot = step.fluids.length > 0 && todo.areLotsAsked ? ', lot=.. (the plan asks for it)' : '';
  const other = step.fluids.length > 0 ? '; fluid=..: with another' : '';
  if (step.when !== null) return `     Enter: not needed here; y: done${lot}${other}; n REASON; help > `;
  return `     Enter: done${lot}${other}; n REASON: left out; help > `;
}

/** False where the crew stops, or nothing more is typed. */
async function guideStep(guided: Guided, step: StepToDo): Promise<boolean> {
  const { crew, decon, lines, lots } = guided;
  sayStep(guided, step);
  for (let before: string | undefined; ; ) {
    const line = await lines.ask(promptOf(guided, step));
    const answer = line === null ? { is: 'stop' as const } : stepAnswer(line, step, before);
    before = line ?? undefined;
    if (answer.is === 'stop') return false;
    if (answer.is === 'does-not-apply') return true;
    if (answer.is === 'unclear') crew.say(`     ${answer.say}`);
    else if (answer.is === 'left-out') {
      await keepLeftOut(crew, decon, step, answer.why);
      return true;
    } else {
      const lot = answer.lot ?? (answer.part === undefined ? lots.get(answer.fluid ?? '') : undefined);
      if (lot !== undefined && answer.fluid !== undefined) lots.set(answer.fluid, lot);
      await keepStep(crew, decon, step, { ...answer, lot });
      return true;
    }
  }
}

/** Where water of this event went before, by what is written on it. */
async function drumsOf({ crew }: Guided): Promise<readonly string[]> {
  const event = (await theEvent(crew)).id;
  const here = (await live(crew, 'decon')).filter((one) => field(one, 'event') === event);
  return [...new Set(here.map((one) => field(one, 'wasteTo')).filter(Boolean))].toSorted();
}

/** One that nobody has named in this event is asked for twice: a slip would send the office to look for it. */
async function drumOf(guided: Guided, given: string | undefined): Promise<string | undefined> {
  const { crew, todo, decon, lines } = guided;
  if (given !== undefined || todo.open?.fields.wasteTo || !(await leftWater(crew, decon, todo))) return given;
  const drums = await drumsOf(guided);
  let before = '';
  for (;;) {
    const line = await lines.ask('     Into which drum did the water go? Its label (Enter: not written down) > ');
    if (!line) return undefined;
    const known = drums.find((drum) => drum.toLowerCase() === line.toLowerCase());
    if (known !== undefined || line.toLowerCase() === before) return known ?? line;
    const others = drums.length > 0 ? `; known are ${drums.join(', ')}` : '';
    crew.say(`     no drum "${line}" is named in this event yet${others}. Is that its label? Then once more`);
    before = line.toLowerCase();
  }
}

async function stepByStep(guided: Guided, label: string, drum: string | undefined): Promise<void> {
  const { crew, todo, decon } = guided;
  for (const step of todo.steps) {
    if (await guideStep(guided, step)) continue;
    crew.say(`${label} is being cleaned, and not clean yet: crew decon ${label} goes on here`);
    return;
  }
  await endDecon(crew, decon, todo, { label, drum: await drumOf(guided, drum) });
}

/** All steps that are always due, as they stand. */
async function atOnce({ crew, todo, decon }: Guided, label: string, drum: string | undefined, lot: string | undefined) {
  await keepAsTheyStand(crew, decon, todo.steps.filter(isDueAlways), lot);
  await endDecon(crew, decon, todo, { label, drum });
}

function mustBeCleanable(todo: DeconToDo, label: string): void {
  if (todo.protocol !== null) return;
  throw new CrewError(
    `nothing is recorded for ${label}: ${todo.asked.decon.reasons[0] ?? 'it is not cleaned by a protocol'}`,
  );
}

function sayWhat(crew: Crew, todo: DeconToDo, label: string): void {
  const { protocol, against, open, asked } = todo;
  if (open) crew.say(`the decon of ${label} that began at ${open.fields.began.slice(11, 16)} goes on`);
  crew.say(`${label}: ${protocol?.title ?? ''}`);
  crew.say(`          against ${listText(against.map(classWritten))}; ${protocol?.document ?? ''}`);
  const isClean = asked.unit.state?.state === 'clean';
  if (isClean && !open) crew.say(`          ${label} is clean by its records already`);
  for (const one of open || isClean || isLight(todo) ? [] : asked.decon.notKnown) crew.say(`mind      ${one}`);
}

function mustBeLight(todo: DeconToDo, label: string): void {
  if (isLight(todo)) return;
  throw new CrewError(`${todo.protocol?.title ?? label}: kept step by step, not with one word: crew decon ${label}`);
}

/** The word that may stand behind the name of the unit. */
function protocolIn(rest: readonly string[], label: string): string | undefined {
  const [protocol, ...more] = rest;
  if (protocol === undefined) return undefined;
  if ((DECON_PROTOCOL_IDS as readonly string[]).includes(protocol) && more.length === 0) return protocol;
  throw new CrewError(
    `"${rest.join(' ')}" behind ${label} is no protocol: give one of ${DECON_PROTOCOL_IDS.join(', ')}`,
  );
}

export async function guideDecon(
  crew: Crew,
  given: readonly string[],
  { keys, write, isDone }: DeconKeys,
): Promise<void> {
  const { words, pair } = pairsIn(given, ['suites', 'drum', 'lot'], ['drum']);
  await mustBeReady(crew);
  const { unit, label, rest } = await theUnit(crew, words, DECON_USAGE);
  const event = (await theEvent(crew)).id;
  const suites = pair('suites')?.split(',').filter(Boolean);
  const todo = deconToDo(await equipmentHere(crew.client), { unit: unit.id, event, suites }, protocolIn(rest, label));
  if (todo === null) return;
  mustBeCleanable(todo, label);
  if (isDone) mustBeLight(todo, label);
  sayWhat(crew, todo, label);
  await askWhoHas(crew, unit.id, label);
  const decon = todo.open?.id ?? (await beginDecon(crew, todo, unit.id, event));
  const lines = typedLines(keys, write);
  const guided: Guided = { crew, todo, decon, lines, lots: new Map() };
  try {
    if (isDone) await atOnce(guided, label, pair('drum'), pair('lot'));
    else await stepByStep(guided, label, pair('drum'));
  } finally {
    await lines.close();
  }
}
