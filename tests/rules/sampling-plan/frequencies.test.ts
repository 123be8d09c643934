import { describe, expect, it } from 'vitest';
import { QC_RULES } from '../../../src/catalog/analytes/qc-rules.ts';
import { COOLER_RULE, expectedCoolers, WATER_OF_COOLER_ML } from '../../../src/rules/sampling-plan/expected-coolers.ts';
import { samplingPlanOutput, samplingPlanTold } from '../../../src/rules/sampling-plan/plan-told.ts';
import { idOf, TestRound } from './plan-facts.ts';

const count = (round: TestRound, type: string) => round.planned(type).length;

function planned(...given: ConstructorParameters<typeof TestRound>): TestRound {
  const round = new TestRound(...given);
  round.plan();
  return round;
}

describe('duplicates and spikes', () => {
  it('one for each 10 and 20 or part of them: 37 samples have 4 and 2 (a sampling plan, county file, doc 932734, page 226; US EPA Region 9, doc 605711, page 268)', () => {
    const round = planned({ wells: 37 });
    expect([count(round, 'normal'), count(round, 'blind-duplicate'), count(round, 'matrix-spike')]).toEqual([37, 4, 2]);
  });

  it.each([
    [1, 1, 1],
    [10, 1, 1],
    [11, 2, 1],
    [20, 2, 1],
    [21, 3, 2],
  ])(
    'a portion counts as a whole: %i samples, %i and %i (a sampling plan, county file, doc 581139, page 111)',
    (wells, duplicates, spikes) => {
      const round = planned({ wells });
      expect([count(round, 'blind-duplicate'), count(round, 'matrix-spike')]).toEqual([duplicates, spikes]);
    },
  );

  it('as the plan of the event says: 1 in 20, and not blind (a sampling plan, county file, doc 453814, page 47)', () => {
    const round = planned({ wells: 37, sampling: { duplicatesPer: 20, msMsdPer: 5, blindDuplicates: false } });
    expect([count(round, 'duplicate'), count(round, 'blind-duplicate'), count(round, 'matrix-spike')]).toEqual([
      2, 0, 8,
    ]);
  });

  it('are counted for each suite, so that a suite of few wells has its own', () => {
    const round = new TestRound({ wells: 12 });
    for (let at = 1; at <= 3; at += 1) round.well(at, ['VOC', 'PFAS']);
    round.plan();
    const of = (suite: string) =>
      round.planned('blind-duplicate').filter(({ fields }) => (fields.suites as string[]).includes(suite)).length;
    expect([of('VOC'), of('PFAS')]).toEqual([2, 1]);
  });

  it('a spike is of a planned sample of a well, never of a blank, and has two volumes of organics on top (usual request of laboratories, from memory)', () => {
    const round = planned({ wells: 3, suites: ['VOC', 'SVOC', 'Metals'] });
    const [spike] = round.planned('matrix-spike');
    const parent = round.states.get(String(spike?.fields.of));
    expect([parent?.fields.type, spike?.fields.well]).toEqual(['normal', parent?.fields.well]);
    const groups = round.containersOf(spike?.id ?? '').map(({ fields }) => fields.group);
    expect(groups.toSorted()).toEqual([...Array(4).fill('semivolatiles'), ...Array(6).fill('volatiles')]);
  });

  it('a spike never goes to a well with little water, and a note says so where there is no other', () => {
    const round = new TestRound({ wells: 2 });
    round.amend(idOf('W-001'), { knownToPurgeDry: true });
    round.plan();
    expect(round.planned('matrix-spike').map(({ fields }) => fields.well)).toEqual([idOf('W-002')]);
    round.amend(idOf('W-002'), { knownToPurgeDry: true });
    const again = new TestRound({ wells: 1 });
    again.amend(idOf('W-001'), { knownToPurgeDry: true });
    expect(again.plan().notes.join()).toContain('no further well gives enough water');
    expect(count(again, 'matrix-spike')).toBe(0);
  });

  it('duplicates go where something will likely be found (a sampling plan, county file, doc 453814, page 47), spread over the crews', () => {
    const round = new TestRound({ wells: 40 });
    const found = {
      analyte: 'tetrachloroethene',
      unit: 'ug/L',
      reportingLimit: '0.5',
      value: '12',
      condition: 'detected',
    } as const;
    const hits = [3, 4, 5, 6, 7, 9, 11, 13].map((at) => [idOf(`W-${String(at).padStart(3, '0')}`), [found]] as const);
    round.lastResults = new Map(hits);
    round.plan();
    const duplicates = round.planned('blind-duplicate');
    const wells = new Set(hits.map(([well]) => well));
    expect(duplicates.map(({ fields }) => wells.has(String(fields.well)))).toEqual([true, true, true, true]);
    const crews = duplicates.map(({ fields }) => fields.crew);
    expect(crews.filter((crew) => crew === idOf('crew-1'))).toHaveLength(2);
  });
});

describe('QC of two types', () => {
  it('does not ask one well for the water of both, where another does as well', () => {
    const round = planned({ wells: 2 });
    const [duplicate, spike] = [round.planned('blind-duplicate')[0], round.planned('matrix-spike')[0]];
    expect(duplicate?.fields.well).not.toBe(spike?.fields.well);
    expect(planned({ wells: 1 }).planned('matrix-spike')).toHaveLength(1);
  });
});

describe('splits', () => {
  it('are planned for the laboratory of the other party, with the same suites, linked to their first sample', () => {
    const sampling = { wells: [{ well: idOf('W-002'), splitWith: idOf('lab-2') }] };
    const round = planned({ wells: 3, suites: ['VOC', 'Metals'], sampling, laboratories: 2 });
    const [split, ...others] = round.planned('split');
    expect(others).toEqual([]);
    const first = round.states.get(String(split?.fields.of));
    expect(split?.fields).toMatchObject({
      well: idOf('W-002'),
      laboratory: idOf('lab-2'),
      suites: first?.fields.suites,
    });
    expect(round.propose().notes).toEqual([]);
  });
});

describe('blanks', () => {
  it('a rinsate for each day and unit that goes from well to well (a sampling plan, county file, doc 565229, page 291)', () => {
    const round = new TestRound({ wells: 8, equipment: { rinsatePer: 'unit-and-day' }, ends: '2026-05-06' });
    const pump = (unit: string, crew: string, from: string, until: string | null) => ({
      unit: idOf(unit),
      label: unit,
      type: 'bladder-pump',
      crew: idOf(crew),
      from,
      until,
    });
    round.pumps = [
      pump('P-1', 'crew-1', '2026-05-01', null),
      pump('P-2', 'crew-1', '2026-05-05', '2026-05-05'),
      pump('P-3', 'crew-2', '2026-05-04', null),
    ];
    round.plan();
    const remarks = round.planned('equipment-blank').map(({ fields }) => String(fields.remark));
    expect(remarks.filter((one) => one.includes('P-1'))).toHaveLength(3);
    expect(remarks.filter((one) => one.includes('P-2'))).toEqual([
      'Equipment blank through P-2 (bladder-pump), 2026-05-05',
    ]);
    expect(remarks).toHaveLength(7);
  });

  it('one rinsate of a pump that changes crews in the course of a day, for the crew that has it last', () => {
    const round = new TestRound({ wells: 8, equipment: { rinsatePer: 'unit-and-day' }, ends: '2026-05-05' });
    const pump = { unit: idOf('P-1'), label: 'P-1', type: 'bladder-pump' };
    round.pumps = [
      { ...pump, crew: idOf('crew-2'), from: '2026-05-04', until: null },
      { ...pump, crew: idOf('crew-1'), from: '2026-05-04', until: '2026-05-04' },
    ];
    round.plan();
    const told = round.planned('equipment-blank').map(({ fields }) => [fields.remark, fields.crew]);
    expect(told.toSorted()).toEqual([
      ['Equipment blank through P-1 (bladder-pump), 2026-05-04', idOf('crew-2')],
      ['Equipment blank through P-1 (bladder-pump), 2026-05-05', idOf('crew-2')],
      // it had none of its own that day
      ['Equipment blank through the pump of Crew 1, 2026-05-05', idOf('crew-1')],
    ]);
  });

  it('a rinsate for each crew and day where no sign-out tells its pump; none where the plan asks for none', () => {
    const asked = planned({ wells: 8, equipment: { rinsatePer: 'unit-and-day' }, ends: '2026-05-05' });
    expect(count(asked, 'equipment-blank')).toBe(4);
    expect(count(planned({ wells: 8 }), 'equipment-blank')).toBe(0);
  });

  it('a field blank each day with volatiles (a sampling plan, county file, doc 567537, page 35), one an event for PFAS (California State Water Resources Control Board, 2019)', () => {
    const dates = { ends: '2026-05-06' };
    expect(count(planned({ wells: 8, ...dates }), 'field-blank')).toBe(3);
    expect(count(planned({ wells: 8, suites: ['PFAS'], ...dates }), 'field-blank')).toBe(1);
    expect(count(planned({ wells: 8, suites: ['PFAS', 'VOC'], ...dates }), 'field-blank')).toBe(4);
    expect(count(planned({ wells: 8, suites: ['Metals'], ...dates }), 'field-blank')).toBe(0);
    for (const [fieldBlanksPer, many] of [
      ['none', 0],
      ['day', 3],
      ['event', 1],
    ] as const)
      expect(count(planned({ wells: 8, sampling: { fieldBlanksPer }, ...dates }), 'field-blank')).toBe(many);
  });

  it('a trip blank in each cooler with volatiles (a sampling plan, county file, doc 932734, page 226), a temperature blank in each (procedures of the regions of US EPA, from memory)', () => {
    const round = planned({ wells: 40, suites: ['VOC', 'SVOC'] });
    const [cooler] = round.propose().coolers;
    expect(cooler?.coolers).toBeGreaterThan(cooler?.withTripBlank ?? 0);
    expect([count(round, 'trip-blank'), count(round, 'temperature-blank')]).toEqual([
      cooler?.withTripBlank,
      cooler?.coolers,
    ]);
    const [trip] = round.planned('trip-blank');
    expect(round.containersOf(trip?.id ?? '').map(({ fields }) => fields.group)).toEqual(Array(3).fill('volatiles'));
    expect(count(planned({ wells: 40, suites: ['Metals'] }), 'trip-blank')).toBe(0);
    const without = planned({ wells: 40, sampling: { temperatureBlankPerCooler: false } });
    expect(count(without, 'temperature-blank')).toBe(0);
  });

  it('as many as coolers are packed, where that is more than was expected', () => {
    const round = planned({ wells: 2 });
    const expected = count(round, 'temperature-blank');
    for (let at = 1; at <= expected + 2; at += 1)
      round.put('cooler', idOf(`cooler ${at}`), { event: round.event, number: String(at), laboratory: idOf('lab-1') });
    round.plan();
    expect(count(round, 'temperature-blank')).toBe(expected + 2);
  });
});

describe('coolers', () => {
  it('50 quarts, a third ice (advice of a river authority laboratory), half of the rest water: 15,772 mL', () => {
    expect(WATER_OF_COOLER_ML).toBe(15_772);
    const load = { laboratory: null, withTripBlankMl: 120, onRecord: 0, onRecordWithTripBlank: 0 };
    // bottles that hold a part of a millilitre are told as water to the next whole one
    expect(expectedCoolers({ ...load, volumeMl: 120.5 }, 1).volumeMl).toBe(121);
    const coolers = (volumeMl: number, days: number) => expectedCoolers({ ...load, volumeMl }, days).coolers;
    expect([coolers(15_772, 1), coolers(15_773, 1), coolers(15_773, 2), coolers(120, 0)]).toEqual([1, 2, 2, 0]);
    expect(COOLER_RULE).toContain('15772 mL');
  });
});

describe('a container whose volume was mistyped', () => {
  it.each(['-5', '-999999999.999999', '0', '40.5'])(
    'as %s mL is told as it is, and takes no less than no room',
    (volumeMl) => {
      const round = new TestRound({ wells: 2, suites: ['VOC'] });
      round.plan();
      // what a person changed of a container that was filled stays as it is
      for (const { id } of round.ofKind('container')) round.amend(id, { volumeMl, standing: 'filled' });
      const told = samplingPlanTold(round.propose(), round.facts());
      expect(samplingPlanOutput.parse(told)).toEqual(told);
      expect(told.samples.flatMap(({ containers }) => containers.map((one) => one.volumeMl))).toContain(volumeMl);
    },
  );
});

describe('what is told', () => {
  it('names a source for every frequency', () => {
    const round = new TestRound({ wells: 12, suites: ['VOC', 'PFAS'], sampling: { duplicatesPer: 5 } });
    const { frequencies } = samplingPlanTold(round.propose(), round.facts());
    const sources = new Set(QC_RULES.map(({ source }) => source));
    expect(frequencies.map(({ type }) => type)).toContain('trip-blank');
    for (const { source } of frequencies)
      expect(source === 'the plan of the event' || [...sources].some((one) => source.includes(one))).toBe(true);
    expect(frequencies.filter(({ asked, planned: many }) => asked !== many)).toEqual([]);
  });
});
