import { PRACTICAL_SUCTION_LIFT } from '../../catalog/pumps/practical-suction-lift.ts';
import { SET_UP_RULES } from '../../catalog/pumps/set-up-rules.ts';

export const practicalSource = PRACTICAL_SUCTION_LIFT.source;

/** On what a plan rests. */
export const PLAN_SOURCES: readonly string[] = [
  ...Object.values(SET_UP_RULES).map(({ value, source }) => `${value}: ${source}`),
  practicalSource,
  'Hawaii Department of Health, Technical Guidance Manual, Table 6-2: positive displacement excellent and peristaltic poor for volatiles',
  'FRTR, section 4.3.1: bladder pumps, principle and smallest well',
  'Parker, Govoni and Stutz 2004, ERDC/CRREL TR-04-24: bladder pumps of 3/4 and 1/2 in (abstract)',
  'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13: purge more than stabilized drawdown and tubing volume',
  'US EPA Region 1, EQASOP-GW4, Rev. 4, 2017, from memory: a flow-cell volume between two readings',
  'Puls and Barcelona 1996, EPA/540/S-95/504, section III: middle or slightly above of the screen (read in an excerpted copy)',
  'Drive pressure in three rules: hydrostatics, computed; half a psi a foot and 10 psi, and 10 to 20 ft of water: common practice, no source',
  'Gas by Boyle, isothermal, computed; no primary example was found',
  'Materials: USGS National Field Manual, chapter A2, US EPA Region 1 and state PFAS guides, from memory; no PTFE for PFAS: common practice, no source',
];
