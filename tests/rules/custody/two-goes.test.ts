import { expect, it } from 'vitest';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
import { receiptCountDiffers } from '../../../src/rules/custody/rules/receipt-count-differs.ts';
import { SamplesWorld } from '../samples/samples-world.ts';

const at = (clock: string) => `2026-05-05T${clock}:00-05:00`;

/** What is asked of counts where each go read these labels of two bottles, and told the rest as missing. */
function asked(...goes: readonly (readonly string[])[]) {
  const labels = ['N-1', 'N-2'];
  const world = new SamplesWorld().add('cooler', 'c-1', { event: 'event-1', number: 'C1', packed: at('08:00') });
  for (const label of labels) world.bottle(label, 'nitrate', { cooler: 'c-1' });
  goes.forEach((read, go) => {
    const items = labels.filter((label) => !read.includes(label)).map((label) => ({ label, condition: 'missing' }));
    const said = { labels: read, items, containersCounted: read.length };
    world.add('sample-receipt', `r-${go}`, { event: 'event-1', cooler: 'c-1', received: at(`09:0${go}`), ...said });
  });
  const of = world.samples();
  const [cooler] = of.coolers;
  if (!cooler) throw new Error('no cooler');
  const beside = { former: [], contents: [], twice: [], now: null };
  return receiptCountDiffers.find(coolerFacts(cooler, of), beside).map(({ sentence }) => sentence);
}

it('the count of a cooler that is read in two goes is asked about as long as one is missing, and not once both came', () => {
  expect(asked(['N-1'])).toEqual([expect.stringContaining('counted 1 containers; 2 are packed')]);
  expect(asked(['N-1'], ['N-2'])).toEqual([]);
  expect(asked(['N-2'], ['N-2'])).toHaveLength(2);
});
