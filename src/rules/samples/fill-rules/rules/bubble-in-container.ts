import { SAMPLING_RULES } from '../../../../catalog/analytes/sampling-rules.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, type Filled, filled, withoutAir } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

function hasBubble(one: Filled): boolean {
  return one.fill.fields.bubble === true && withoutAir(one) !== undefined;
}

/** Enough others without a bubble are full: the one with it was replaced, though nobody said that it was thrown away. */
function isReplaced(one: Filled, all: readonly Filled[]): boolean {
  const { group, suite, sample } = one.container.fields;
  const alike = all.filter(
    ({ container: { fields } }) => fields.group === group && fields.suite === suite && fields.sample === sample,
  );
  return alike.filter((other) => !hasBubble(other)).length >= (one.asked?.count ?? Number.POSITIVE_INFINITY);
}

const { source, verified } = SAMPLING_RULES.noBubble;

export const bubbleInContainer: SampleRule = {
  code: 'bubble-in-container',
  title: 'Air was seen in a container that must have none',
  severity: 'caution',
  addressee: 'now',
  source,
  verified,
  methods: null,
  evaluate(facts) {
    const all = filled(facts);
    return all
      .filter((one) => hasBubble(one) && !isReplaced(one, all))
      .map((one) =>
        aboutContainer(
          one,
          `A bubble in ${one.container.fields.label}, which must have no air (${withoutAir(one)?.group.title}). Discard it and fill a new one; where it cannot be had without, write that down.`,
          [fieldEvidence(one.fill, 'bubble')],
        ),
      );
  },
  vectors: [
    {
      name: 'a bubble in a vial',
      given: { containers: [{ fill: { bubble: true } }] },
      expect: 'raised',
      says: 'Discard it and fill a new one',
    },
    { name: 'none', given: { containers: [{ fill: { bubble: false } }] }, expect: 'silent' },
    { name: 'discarded', given: { containers: [{ standing: 'discarded', fill: { bubble: true } }] }, expect: 'silent' },
    {
      name: 'filled again without',
      given: { containers: [{ fill: [{ bubble: true }, { at: '10:37', bubble: false }] }] },
      expect: 'silent',
    },
    {
      name: 'a bubble again',
      given: { containers: [{ fill: [{ bubble: false }, { at: '10:37', bubble: true }] }] },
      expect: 'raised',
    },
    {
      name: 'three others are full beside it',
      given: { containers: [{ fill: { bubble: true } }, {}, {}, { at: '10:38' }] },
      expect: 'silent',
    },
    { name: 'only two others are', given: { containers: [{ fill: { bubble: true } }, {}, {}] }, expect: 'raised' },
    {
      name: 'a bottle for nitrate that serves alkalinity too',
      given: {
        containers: [{ group: 'nitrate', alsoGroups: ['alkalinity'], type: 'bottle', fill: { bubble: true } }],
      },
      expect: 'raised',
      says: 'no air (Alkalinity',
    },
    {
      name: 'a bottle of metals may have air',
      given: { containers: [{ group: 'metals-total', type: 'bottle', volumeMl: '500', fill: { bubble: true } }] },
      expect: 'silent',
    },
  ],
};
