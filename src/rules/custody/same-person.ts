function words(name: string): readonly string[] {
  return name
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[.,]/g, ' ')
    .split(/\s+/)
    .filter((word) => word !== '');
}

/** Whether two names can be of one person or firm: "A. Brown" and "Anna Brown" can, "Anna Brown" and "Ben Brown" cannot. */
export function isSameName(one: string, other: string): boolean {
  const [a, b] = [words(one), words(other)];
  if (a.join(' ') === b.join(' ')) return true;
  if (a.length < 2 || b.length < 2 || a.at(-1) !== b.at(-1)) return false;
  const [first = '', second = ''] = [a[0], b[0]];
  return first.startsWith(second) || second.startsWith(first);
}

/** Whether a name of a firm is told in a text, such as "the van of Example Couriers". */
export function isNamedIn(name: string, text: string): boolean {
  const [wanted, told] = [words(name).join(' '), words(text).join(' ')];
  return wanted !== '' && told !== '' && (told.includes(wanted) || wanted.includes(told));
}
