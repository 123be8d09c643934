/** Groups of analytes that ask for different materials. */
export const SUITE_GROUPS = ['pfas', 'volatiles', 'semivolatiles', 'metals', 'inorganics'] as const;
export type SuiteGroup = (typeof SUITE_GROUPS)[number];

/** How a suite is recognised by what a plan or a bottle order calls it; the method numbers are from memory. */
export const SUITE_GROUP_WORDS: readonly { readonly group: SuiteGroup; readonly words: RegExp }[] = [
  { group: 'pfas', words: /pfas|pfos|pfoa|perfluoro|polyfluoro|\b(?:533|537(?:\.1)?|1633a?)\b/i },
  {
    group: 'semivolatiles',
    words: /semi-?\s?volatile|\bsvocs?\b|\bpahs?\b|\bpcbs?\b|pesticide|herbicide|dioxane|\b8270[a-e]?\b/i,
  },
  {
    group: 'volatiles',
    words:
      /(?<!semi-?\s?)volatile|\bvocs?\b|btex|benzene|gasoline|vinyl chloride|dissolved gas|methane|\b8260[a-d]?\b/i,
  },
  {
    group: 'metals',
    words: /metals?\b|arsenic|\blead\b|chromium|mercury|iron|manganese|\b6010[a-d]?\b|\b6020[ab]?\b/i,
  },
  {
    group: 'inorganics',
    words:
      /anion|cation|nitrate|nitrite|sulfate|sulphate|chloride\b(?<!vinyl chloride)|ammonia|alkalinity|nutrient|dissolved solids|hardness|fluoride/i,
  },
];

/** The groups that a suite by its name belongs to; none where the name says nothing that is known here. */
export function groupsOfSuite(name: string): readonly SuiteGroup[] {
  return SUITE_GROUP_WORDS.filter(({ words }) => words.test(name)).map(({ group }) => group);
}
