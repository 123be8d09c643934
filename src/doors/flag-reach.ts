/** What the open flags of an event are, said alike by every door. */
export const OPEN_FLAGS =
  'Raised flags about visits of the event and what was recorded on them. A flag about a device (its clock is off) is ' +
  'about no event alone: it lives in the feed of the firm, and in its list of flags. Not counted either are flags about ' +
  'kits, numbers on bottles and blanks of the event, which lie at no well: they are in its list of flags';
