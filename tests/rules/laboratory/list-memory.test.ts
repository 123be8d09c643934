import { setTimeout as sleep } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { sampleListCsv } from '../../../src/documents/sample-list/sample-list-csv.ts';
import { sampleListJson } from '../../../src/documents/sample-list/sample-list-json.ts';
import { sampleListXlsx } from '../../../src/documents/sample-list/sample-list-xlsx.ts';
import { laboratoryList, toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { officeList } from '../../../src/rules/laboratory/office-list.ts';
import { type EventSamples, eventSamples } from '../../../src/rules/samples/event-samples.ts';
import { seeded } from '../../support/faulty-pool.ts';
import { blindRound } from './blind-round.ts';

/** An event with so many containers in closed coolers: those of a round, again and again under other numbers. */
function eventOf(containers: number): { readonly of: EventSamples; readonly laboratory: string } {
  const round = blindRound(seeded(1), { isOpen: false });
  const states = round.states(round.steps).map((state) => ({ ...state }));
  const base = eventSamples(round.event, states);
  const times = Math.ceil(containers / base.containers.length);
  const more = Array.from({ length: times }, (_, turn) => {
    const as = (id: string) => `${id.slice(0, 24)}${turn.toString(16).padStart(4, '0')}${id.slice(28)}`;
    return {
      samples: base.samples.map((one) => ({
        ...one,
        id: as(one.id),
        fields: { ...one.fields, number: `${one.fields.number}-${turn}` },
      })),
      containers: base.containers.map((one) => {
        const sample = one.fields.sample === undefined ? {} : { sample: as(one.fields.sample) };
        return { ...one, id: as(one.id), fields: { ...one.fields, ...sample, label: `${one.fields.label}-${turn}` } };
      }),
      fills: base.fills.map((one) => ({
        ...one,
        id: as(one.id),
        fields: { ...one.fields, container: as(one.fields.container) },
      })),
    };
  });
  const of = {
    ...base,
    samples: more.flatMap((one) => one.samples),
    containers: more.flatMap((one) => one.containers),
    fills: more.flatMap((one) => one.fills),
  };
  return { of, laboratory: round.laboratory };
}

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** What the heap holds at its highest beyond what it held before, each time swept first, while somebody takes the pieces. */
async function highest(
  pieces: AsyncIterable<string | Uint8Array>,
): Promise<{ readonly heap: number; readonly sent: number }> {
  collect();
  const before = process.memoryUsage().heapUsed;
  let [heap, sent, at] = [0, 0, 0];
  for await (const piece of pieces) {
    sent += piece.length;
    if (at++ % 500 !== 0) continue;
    await sleep(0);
    collect();
    heap = Math.max(heap, process.memoryUsage().heapUsed - before);
  }
  return { heap, sent };
}

const MiB = 1_048_576;

describe('a list of 5,000 containers', () => {
  it('takes while it is sent no more memory than one of 1,000', async () => {
    const formats = { json: sampleListJson, csv: sampleListCsv, xlsx: sampleListXlsx };
    for (const [name, pieces] of Object.entries(formats)) {
      const measured = [];
      for (const size of [1_000, 5_000]) {
        const { of, laboratory } = eventOf(size);
        for (const rows of [officeList(of), laboratoryList(toldToLaboratory(of, laboratory))]) {
          measured.push({ size, ...(await highest(pieces(rows))) });
        }
      }
      const told = measured.map(
        ({ size, heap, sent }) => `${size}: ${(heap / MiB).toFixed(1)} MiB for ${Math.round(sent / 1024)} KiB`,
      );
      console.info(`${name}: ${told.join('; ')}`);
      const [few = 0, , many = 0] = measured.map(({ heap }) => heap);
      expect(many - few).toBeLessThan(2 * MiB);
    }
  }, 240_000);
});
