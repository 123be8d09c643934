import { DEFAULT_FILL_ORDER, FILL_ORDERS, inFillOrder } from '../../../../catalog/analytes/fill-orders.ts';
import { PUBLICATIONS } from '../../../../catalog/analytes/publications.ts';
import type { SamplingPlan } from '../../../../protocol/sampling-plan.ts';
import { surelyBefore } from '../../../flags/facts/surely-before.ts';
import { listText } from '../../../flags/list-text.ts';
import type { FillRecord } from '../../sample-records.ts';
import { timedFill } from '../fill-times.ts';
import { aboutSample, fillEvidence, perSample } from '../parts.ts';
import type { ContainerFacts, SampleFacts } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

interface Placed extends ContainerFacts {
  /** The first fill: one that is filled again for a bubble broke no order. */
  readonly first: FillRecord;
  readonly place: number;
}

/** What the order does not name may come whenever; a bottle for several groups comes with the first of them. */
function placed({ containers, plan }: SampleFacts): readonly Placed[] {
  const groups = containers.flatMap(({ served }) => served.map(({ group }) => group));
  const order = inFillOrder(groups, plan?.fillOrder ?? DEFAULT_FILL_ORDER, plan?.pfas ?? 'first');
  const places = new Map(order.filter(({ isNamed }) => isNamed).map(({ group, place }) => [group.id, place]));
  return containers.flatMap((one) => {
    const [place] = one.served.flatMap(({ group }) => places.get(group.id) ?? []).toSorted((a, b) => a - b);
    const [first] = one.fills;
    return one.isFull && first && place !== undefined ? [{ ...one, first, place }] : [];
  });
}

/** A new one for one that was discarded comes when it can. */
function isReplacement({ container: { fields } }: Placed, { containers }: SampleFacts): boolean {
  return containers.some(
    ({ container: { fields: other } }) =>
      other.standing === 'discarded' && other.sample === fields.sample && other.group === fields.group,
  );
}

/** Those of which another, that comes later in the order, was filled before. */
function late(facts: SampleFacts): readonly (Placed & { readonly before: Placed })[] {
  const all = placed(facts);
  return all.flatMap((one) => {
    if (isReplacement(one, facts)) return [];
    const before = all.find(
      (other) =>
        other.sample?.id === one.sample?.id &&
        other.place > one.place &&
        surelyBefore(timedFill(other.first), timedFill(one.first)),
    );
    return before ? [{ ...one, before }] : [];
  });
}

function orderName(plan: SamplingPlan | null): string {
  return FILL_ORDERS[plan?.fillOrder ?? DEFAULT_FILL_ORDER].title;
}

export const fillOrderBroken: SampleRule = {
  code: 'fill-order-broken',
  title: 'The containers of a sample were filled in another order than the plan has',
  severity: 'question',
  addressee: 'now',
  source: `${PUBLICATIONS.epa1992Order.source}; or the order that the plan names`,
  verified: true,
  methods: null,
  evaluate(facts) {
    return perSample(late(facts), (sample, its) => {
      const pairs = its.map(
        ({ container, before }) => `${container.fields.label} after ${before.container.fields.label}`,
      );
      return aboutSample(
        sample,
        `Filled out of order (${orderName(facts.plan)}): ${listText(pairs.toSorted())}. Fill them again in order, or write down why.`,
        its.flatMap(({ first, before }) => [fillEvidence(first), fillEvidence(before.first)]),
      );
    });
  },
  vectors: [
    {
      name: 'metals before volatiles',
      given: { containers: [{ at: '10:45' }, { group: 'metals-total', type: 'bottle', at: '10:40' }] },
      expect: 'raised',
      says: 'W-101-1 after W-101-2',
    },
    {
      name: 'volatiles first',
      given: { containers: [{}, { group: 'metals-total', type: 'bottle', at: '10:40' }] },
      expect: 'silent',
    },
    {
      name: 'all with one time',
      given: { containers: [{ group: 'metals-total', type: 'bottle' }, {}] },
      expect: 'silent',
    },
    {
      name: 'PFAS after volatiles, where nothing is said',
      given: { containers: [{}, { group: 'pfas-1633', type: 'bottle', at: '10:40' }] },
      expect: 'raised',
    },
    {
      name: 'PFAS after volatiles, as the plan says',
      given: {
        plan: { pfas: 'after-volatiles' },
        containers: [{}, { group: 'pfas-1633', type: 'bottle', at: '10:40' }],
      },
      expect: 'silent',
    },
    {
      name: 'filtered metals before semivolatiles, as the plan names an order that has it',
      given: {
        plan: { fillOrder: 'state-solid-waste-rule' },
        containers: [
          { group: 'metals-dissolved', type: 'bottle' },
          { group: 'semivolatiles', type: 'bottle', at: '10:50' },
        ],
      },
      expect: 'silent',
    },
    {
      name: 'the same by the other order',
      given: {
        containers: [
          { group: 'metals-dissolved', type: 'bottle' },
          { group: 'semivolatiles', type: 'bottle', at: '10:50' },
        ],
      },
      expect: 'raised',
    },
    {
      name: 'a vial filled again for a bubble',
      given: {
        containers: [
          { fill: [{ bubble: true }, { at: '10:50' }] },
          { group: 'metals-total', type: 'bottle', at: '10:40' },
        ],
      },
      expect: 'silent',
    },
    {
      name: 'a new vial for one that was discarded',
      given: {
        containers: [
          { standing: 'discarded' },
          { group: 'metals-total', type: 'bottle', at: '10:40' },
          { at: '10:50' },
        ],
      },
      expect: 'silent',
    },
    {
      name: 'bottles of two samples between each other',
      given: {
        samples: [{}, { type: 'duplicate' }],
        containers: [
          { group: 'metals-total', type: 'bottle' },
          { at: '10:40', of: 1 },
        ],
      },
      expect: 'silent',
    },
  ],
};
