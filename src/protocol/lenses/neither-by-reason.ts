import type { Given, Lens } from './lens.ts';

function isObject(value: unknown): value is Given {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/**
 * An app of version 2 cannot say that the value by which a person decides a conflict is none of those given: their reason
 * says it. Where the value is one of those given nothing follows from it.
 */
export const neitherByReason: Lens = {
  from: 2,
  onlyAdds: true,
  lift(mutation) {
    const { verb, set, reason } = mutation;
    if (verb !== 'resolve' || typeof reason !== 'string' || !isObject(set) || !('value' in set)) return mutation;
    return { ...mutation, set: { ...set, neither: true } };
  },
};
