/** What happens during a purge and tells of its equipment: the others change nothing of what is said of units. */
export const TELLING_OCCURRENCES: readonly string[] = ['drive-gas-in-discharge', 'handed-over'];
