import { expect, it } from 'vitest';
import { tidyComponents } from '../../../src/doors/rest/tidy-components.ts';

const ref = (name: string) => ({ $ref: `#/components/schemas/${name}` });

it('keeps what is referred to, also by way of others, once and under its own name', () => {
  const text = { type: 'string' };
  const document = {
    paths: { a: ref('ShelfInput'), b: ref('Shelf'), c: ref('JobInput'), d: ref('PlanInput'), e: ref('Plan') },
    components: {
      securitySchemes: { token: {} },
      schemas: {
        Shelf: { properties: { of: ref('Wood') } },
        ShelfInput: { properties: { of: ref('WoodInput') } },
        Wood: text,
        WoodInput: text,
        Job: text,
        JobInput: text,
        Plan: { required: ['a'] },
        PlanInput: {},
        Unused: text,
      },
    },
  };
  const tidy = tidyComponents(document);
  expect(tidy.components.securitySchemes).toEqual({ token: {} });
  // a shelf says the same both ways only once its wood does; the plan differs between reading and writing
  expect(Object.keys(tidy.components.schemas).sort()).toEqual(['Job', 'Plan', 'PlanInput', 'Shelf', 'Wood']);
  expect(tidy.paths).toEqual({ a: ref('Shelf'), b: ref('Shelf'), c: ref('Job'), d: ref('PlanInput'), e: ref('Plan') });
  expect(tidy.components.schemas.Shelf).toEqual({ properties: { of: ref('Wood') } });
});
