import { convertUnit } from './convert-unit.ts';
import { flowingWellLevel } from './flowing-well-level.ts';
import { groundwaterElevation } from './groundwater-elevation.ts';
import { horizontalGradient } from './horizontal-gradient.ts';
import { intakePosition } from './intake-position.ts';
import { productCorrection } from './product-correction.ts';
import type { Question } from './question.ts';
import { tapeOutOfPlumb } from './tape-out-of-plumb.ts';
import { tidalMeanLevel } from './tidal-mean-level.ts';
import { verticalGradient } from './vertical-gradient.ts';
import { waterLevelRepeat } from './water-level-repeat.ts';
import { waterLiftedByPump } from './water-lifted-by-pump.ts';
import { wellIdentity } from './well-identity.ts';
import { wellRecovery } from './well-recovery.ts';
import { wellVolume } from './well-volume.ts';

/** Every question that the doors mount, in the order of their names. */
export const QUESTIONS: readonly Question[] = [
  convertUnit,
  flowingWellLevel,
  groundwaterElevation,
  horizontalGradient,
  intakePosition,
  productCorrection,
  tapeOutOfPlumb,
  tidalMeanLevel,
  verticalGradient,
  waterLevelRepeat,
  waterLiftedByPump,
  wellIdentity,
  wellRecovery,
  wellVolume,
];

const BY_NAME: ReadonlyMap<string, Question> = new Map(QUESTIONS.map((question) => [question.name, question]));

export function questionNamed(name: string): Question | undefined {
  return BY_NAME.get(name);
}
