import type { Commands } from './command.ts';
import { CLEANING_COMMANDS } from './commands/cleaning.ts';
import { EQUIPMENT_COMMANDS } from './commands/equipment.ts';
import { EXCHANGE_COMMANDS } from './commands/exchange.ts';
import { FILLING_COMMANDS } from './commands/filling.ts';
import { LOOKING_COMMANDS } from './commands/looking.ts';
import { METER_COMMANDS } from './commands/meters.ts';
import { PEOPLE_COMMANDS } from './commands/people.ts';
import { RECORDING_COMMANDS } from './commands/recording.ts';

/** In the order of a day, which is the order of the help. */
export const COMMANDS: Commands = {
  ...PEOPLE_COMMANDS,
  ...LOOKING_COMMANDS,
  ...EQUIPMENT_COMMANDS,
  ...METER_COMMANDS,
  ...RECORDING_COMMANDS,
  ...FILLING_COMMANDS,
  ...CLEANING_COMMANDS,
  ...EXCHANGE_COMMANDS,
};
