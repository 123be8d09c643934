type Loose = Readonly<Record<string, unknown>>;

function isObject(value: unknown): value is Loose {
  return typeof value === 'object' && value !== null;
}

function sameArrays(one: readonly unknown[], other: readonly unknown[]): boolean {
  return one.length === other.length && one.every((member, index) => isSameJson(member, other[index]));
}

/** A member that is undefined is none: it is not written. */
function membersOf(value: Loose): number {
  let members = 0;
  for (const key in value) if (value[key] !== undefined) members += 1;
  return members;
}

function sameObjects(one: Loose, other: Loose): boolean {
  for (const key in one) {
    if (one[key] !== undefined && !(Object.hasOwn(other, key) && isSameJson(one[key], other[key]))) return false;
  }
  return membersOf(one) === membersOf(other);
}

/** Whether two plain JSON values have the same canonical text, told without writing it. */
export function isSameJson(one: unknown, other: unknown): boolean {
  if (!isObject(one) || !isObject(other)) return one === other;
  if (one === other) return true;
  if (Array.isArray(one) || Array.isArray(other)) {
    return Array.isArray(one) && Array.isArray(other) && sameArrays(one, other);
  }
  return sameObjects(one, other);
}
