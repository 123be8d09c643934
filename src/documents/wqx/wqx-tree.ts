import { type Element, shape } from './element.ts';
import { locationElement } from './location-element.ts';
import type { NotExported, WqxFacts } from './wqx-facts.ts';
import { ORGANIZATION, PROJECT } from './wqx-schema.ts';

export interface WqxTree {
  readonly organization: readonly Element[];
  readonly projects: readonly Element[];
  readonly locations: readonly Element[];
  readonly notExported: readonly NotExported[];
}

/** Why one of two that have the same identifier is not exported. */
export const TWICE = 'its identifier is given more than once; only the first is exported';

/** Identifiers that come twice would replace each other at the other side. */
function twice(what: string, identifiers: readonly string[]): readonly NotExported[] {
  const seen = new Set<string>();
  const again = new Set(identifiers.filter((one) => seen.size === seen.add(one).size));
  return [...again].map((one) => ({
    what: `${what} ${one}`,
    why: TWICE,
  }));
}

function firsts<T extends { readonly identifier: string }>(all: readonly T[]): readonly T[] {
  const byId = new Map<string, T>();
  for (const one of all) if (!byId.has(one.identifier)) byId.set(one.identifier, one);
  return [...byId.values()];
}

/** All that comes before the activities, in the elements of the schema, and what of it cannot be exported, with why. */
export function wqxTree(facts: Omit<WqxFacts, 'activities'>): WqxTree {
  const { identifier, name, description } = facts.organization;
  const organization = shape(ORGANIZATION, {
    OrganizationIdentifier: identifier,
    OrganizationFormalName: name,
    OrganizationDescriptionText: description,
  });
  const projects = facts.projects.map((one) => ({
    one,
    ...shape(PROJECT, {
      ProjectIdentifier: one.identifier,
      ProjectName: one.name,
      ProjectDescriptionText: one.description,
    }),
  }));
  const faults = [...organization.faults, ...projects.flatMap((project) => project.faults)];
  if (faults.length > 0)
    throw new RangeError(
      `the organization and its projects do not fit the exchange: ${faults.join('; ')}; shorten them`,
    );
  const locations = firsts(facts.wells).map(locationElement);
  return {
    organization: organization.elements,
    projects: projects.flatMap(({ elements }) => elements),
    locations: locations.flatMap(({ elements }) => elements),
    notExported: [
      ...twice(
        'well',
        facts.wells.map((one) => one.identifier),
      ),
      ...locations.flatMap(({ notExported }) => notExported),
    ],
  };
}
