/** How long a cooler is on its way where the plan says nothing. */
export const SHIPPING_DEFAULTS = {
  transitHours: '24',
  source: 'The plan of the event; 24 h where it says nothing: common practice, no source',
} as const;
