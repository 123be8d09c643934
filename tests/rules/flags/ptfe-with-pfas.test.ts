import { describe, expect, it } from 'vitest';
import type { VectorGiven } from '../../../src/rules/flags/flag-vector.ts';
import { ptfeWithPfas } from '../../../src/rules/flags/rules/ptfe-with-pfas.ts';
import { vectorFacts } from '../../../src/rules/flags/vector-bundle.ts';
import { vectorId } from '../../../src/rules/flags/vector-ids.ts';

const found = (given: VectorGiven) => ptfeWithPfas.evaluate(vectorFacts(given));
const pfas = [{ suites: ['PFAS'] }];

describe('fluoropolymers and PFAS', () => {
  it.each(['PTFE', 'ptfe', 'FEP', 'PFA', 'ETFE', 'PVDF', 'polytetrafluoroethylene', 'PTFE-lined polyethylene'])(
    '%s is one',
    (tubingMaterial) => expect(found({ setUps: [{ tubingMaterial }], samples: pfas })).toHaveLength(1),
  );

  it.each(['polyethylene', 'HDPE', 'LDPE', 'silicone', 'stainless steel', 'PTFE-free', 'no PTFE', 'polypropylene'])(
    '%s is none',
    (tubingMaterial) => expect(found({ setUps: [{ tubingMaterial }], samples: pfas })).toEqual([]),
  );

  it.each(['PFAS', 'pfas-24', 'PFAS by EPA 1633', 'EPA 537.1', 'Method 533', 'PFOS/PFOA'])(
    '%s is a PFAS suite',
    (suite) => expect(found({ setUps: [{ bladderMaterial: 'PTFE' }], samples: [{ suites: [suite] }] })).toHaveLength(1),
  );

  it.each(['metals', 'VOC 8260', 'EPA 533A3', 'sulfate'])('%s is none', (suite) =>
    expect(found({ setUps: [{ bladderMaterial: 'PTFE' }], samples: [{ suites: [suite] }] })).toEqual([]),
  );

  it('says all parts and all samples once', () => {
    const [finding] = found({
      pump: {
        wettedParts: [
          { part: 'check ball', material: 'PTFE' },
          { part: 'body', material: 'stainless steel' },
        ],
      },
      setUps: [{ bladderMaterial: 'PTFE', tubingMaterial: 'FEP' }],
      samples: [{ suites: ['PFAS'] }, { suites: ['pfas'] }, { suites: ['metals'] }],
    });
    expect(finding?.sentence).toContain(
      'W-101 and W-102 for PFAS passed a bladder of PTFE, check ball of PTFE and tubing of FEP.',
    );
    expect(finding?.evidence).toContainEqual({
      record: vectorId(7),
      field: 'wettedParts',
      shows: 'check ball: PTFE',
    });
  });

  it('knows nothing of a pump that is not in the bundle, nor without a set-up', () => {
    expect(found({ setUps: [{ pump: vectorId(0x77) }], samples: pfas })).toEqual([]);
    expect(found({ samples: pfas })).toEqual([]);
  });
});
