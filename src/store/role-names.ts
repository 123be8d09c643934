/** Owns the database and its tables, and runs migrations. */
export const OWNER_ROLE = 'wellround_owner';
/** What the application runs as: row-level security holds for it, and it owns nothing. */
export const APP_ROLE = 'wellround_app';
