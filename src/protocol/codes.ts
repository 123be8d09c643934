import type { CodeEntry } from './registry.ts';

function code(status: number, title: string, cause: string, remedy: string): CodeEntry {
  return { status, title, cause, remedy };
}

/**
 * Every code that an answer may carry: as the code of a problem (RFC 9457), or of an outcome inside a push, where the
 * push itself is answered 200. The status is the one of a single request that meets it.
 */
export const CODES = {
  // what cannot be read
  unreadable_json: code(400, 'Not JSON', 'The text is not JSON, or is cut.', 'Send it again whole, as JSON text.'),
  unreadable_text: code(
    400,
    'Not readable as text',
    'The bytes are not UTF-8 text, or the quotation marks of a CSV file do not pair.',
    'Send text as UTF-8; of a CSV file close or double the quotation mark that the detail tells.',
  ),
  too_deep: code(400, 'Nested too deeply', 'The JSON is nested deeper than the limit.', 'See GET /v1/limits.'),
  too_large: code(
    413,
    'Too large',
    'The body, line or list is larger than the limit.',
    'See GET /v1/limits; split it.',
  ),
  unreadable_record: code(
    422,
    'Not readable as a record',
    'A field is missing, unknown, or not of the form that the kind asks for.',
    'The detail names the field and what it may hold.',
  ),
  newer_server_needed: code(
    422,
    'Written by a newer version',
    'The push names a newer version of the shapes than that of this server, and the line holds more than it can read.',
    'Nothing: it is kept byte for byte, and applied when the server was brought up to date.',
  ),
  version_too_old: code(
    422,
    'Written by too old a version',
    'The push names a version of the shapes that is older than the oldest that is taken.',
    'Update the app. What it had recorded is kept byte for byte; a coordinator may release it.',
  ),
  unknown_kind: code(422, 'No such kind', 'The kind named does not exist.', 'GET /v1/kinds lists them.'),
  wrong_number: code(
    422,
    'Out of number',
    'The line carries another mutationId than its place in the push gives it.',
    'Number mutations 1, 2, 3 ... per client and send them in that order.',
  ),
  cut_short: code(
    400,
    'Cut short',
    'Fewer lines arrived than the header announced, or the last one has no line end.',
    'Send the push again whole; every line ends with a line end, the last one too (curl: --data-binary, not -d).',
  ),
  unsupported_media: code(
    415,
    'Other content type',
    'The content type is not the one of this route.',
    'Give the content type that the detail names (curl: -H with it, and --data-binary @file for lines).',
  ),
  not_acceptable: code(
    406,
    'Only as a stream',
    'This address answers with events that go on, and the request does not say that it takes them.',
    'Send `Accept: text/event-stream`.',
  ),
  bad_request: code(
    400,
    'Not a readable request',
    'A parameter, header or the body has another form.',
    'See the detail.',
  ),
  // what waits
  parent_missing: code(
    409,
    'Names a record that is not here yet',
    'A record that it refers to, or requires, has not arrived.',
    'Nothing to do in a push: it is applied when that record arrives. Through REST, send that record first.',
  ),
  right_missing: code(
    403,
    'No right to write this',
    'The role of the token may not write this kind, or the crew of its device is not assigned in the event.',
    'A coordinator can release what was set aside, or write it in person.',
  ),
  reason_missing: code(
    422,
    'A reason is missing',
    'A correction, void or re-homing of what was observed needs a reason.',
    'Send it again with `reason`.',
  ),
  reference_of_other_kind: code(
    422,
    'Refers to a record of another kind',
    'A field names a record that exists but is of another kind.',
    'The detail names the field, the kind found and the kind expected.',
  ),
  id_taken: code(
    409,
    'The id belongs to another record',
    'A record of another kind or place has this id already.',
    'Make ids as UUID version 7 on the device; a person looks at what was set aside.',
  ),
  device_revoked: code(
    403,
    'The device was revoked',
    'The token of the device was withdrawn; what it hands in is kept for a person to look at.',
    'Ask a coordinator of the firm.',
  ),
  database_refused: code(
    422,
    'The database refused it',
    'A constraint that no other check knows of.',
    'The detail says which; what was sent is kept as it came.',
  ),
  server_failed: code(
    500,
    'The server failed on it',
    'A fault of the server itself, each time that it tried.',
    'Nothing: it is kept byte for byte, and tried again every hour. Tell who runs the server what the detail says.',
  ),
  // what means nothing
  nothing_to_change: code(422, 'Changes nothing', 'An amendment without a field.', 'Name at least one field in `set`.'),
  record_missing: code(404, 'No such record', 'No record of this kind has this id.', 'Check the id and the firm.'),
  kind_differs: code(422, 'The record is of another kind', 'The id is of a record of another kind.', 'See the detail.'),
  derived: code(
    422,
    'Only the server writes this kind',
    'Assessments, flags and conflicts are derived from what was recorded.',
    'Change what they are derived from, review a flag, or resolve a conflict.',
  ),
  home_fixed: code(
    422,
    'A record does not change where it lives',
    'The amended field says to which visit, purge or site the record belongs.',
    'Re-home the visit, or void the record and record it anew.',
  ),
  not_rehomable: code(
    422,
    'Only a visit is re-homed',
    'The verb rehome was used on another kind.',
    'Re-home its visit.',
  ),
  not_a_conflict: code(
    422,
    'Not an open conflict',
    'The id is of no conflict, or of one that was decided.',
    'See the detail.',
  ),
  conflict_changed: code(
    409,
    'The conflict has changed since',
    'Another value joined the conflict after the revision cited.',
    'Look at the conflict again and cite its present revision as base.',
  ),
  not_set_aside: code(404, 'Nothing waits under this id', 'No mutation was set aside under it.', 'GET /v1/set-asides.'),
  release_failed: code(
    409,
    'It cannot be applied yet',
    'What was set aside still cannot be applied.',
    'The detail says what is missing.',
  ),
  // the conversation
  mutation_reused: code(
    409,
    'A mutation number with other content',
    'The client sent other bytes under a number that was taken already, as a restored copy of a phone would.',
    'Take a new client id and send what was not acknowledged under new numbers.',
  ),
  mutation_gap: code(
    409,
    'Mutations are missing',
    'The push begins after a number that the server does not know.',
    'Send again from `expected` on.',
  ),
  client_of_other: code(
    409,
    'The client id belongs to another device',
    'Another device of the firm, or a token that was revoked since, uses this client id.',
    'Push the lines before `mutation` to get their answers, and say the rest under a new client id; a partner who carries a copy of an outbox pushes it with the copied client id to /v1/sync/push?carried=true.',
  ),
  reset_required: code(
    410,
    'Begin again from nothing',
    'The cursor does not fit the data: see `reason`.',
    'Keep the outbox, drop the records of the feed, pull from nothing, and replay the mutations after `lastMutation`.',
  ),
  unauthenticated: code(
    401,
    'Who are you?',
    'No token was shown, or it is unknown, expired or revoked.',
    'Send `Authorization: Bearer TOKEN`; a coordinator issues tokens.',
  ),
  token_expired: code(
    401,
    'The token has expired',
    'The time until which the token was given out is over.',
    'Nothing is lost: keep the outbox, ask a coordinator for an enrolment code, and send it with the new token.',
  ),
  enrolment_refused: code(
    403,
    'The code is not taken',
    'The code is unknown, or was used, withdrawn or is over; which of these is not said to who has no token.',
    'Read it once more, or ask the coordinator for a new one.',
  ),
  forbidden: code(
    403,
    'Not with this role',
    'The role of the token may not do this.',
    'The detail names the roles that may.',
  ),
  not_found: code(
    404,
    'Not here',
    'No such address, record or feed in this firm, or you may not see it.',
    'Check the address and the id; the list above it (GET /v1/tokens, GET /v1/sync/feeds) names what is here.',
  ),
  revision_differs: code(
    412,
    'Changed since',
    'If-Match names another revision than the present one.',
    'Read the record again; or leave If-Match out and send `base`, and the changes are merged.',
  ),
  already_decided: code(
    409,
    'Decided already',
    'The open item between the firm and its laboratory was decided before.',
    'Read what was decided; where that is to change, a coordinator amends the record.',
  ),
  base_missing: code(
    428,
    'What had you seen?',
    'An amendment without If-Match and without base.',
    'Send If-Match with the ETag that you read, or in the body `"base": {"rev": 1}`, the revision that you had seen.',
  ),
  key_reused: code(
    422,
    'Idempotency-Key with another request',
    'The key was used for a request with other content.',
    'Use one key a request.',
  ),
  too_many: code(429, 'Too many requests', 'More requests than the limit in this time.', 'Wait as Retry-After says.'),
  busy: code(
    503,
    'Try again',
    'The database or the server cannot take it at the moment; it is not known whether it was stored.',
    'Send the same again after Retry-After: a push by its numbers, another request under its Idempotency-Key.',
  ),
  newer_database: code(
    503,
    'The database is newer than this server',
    'A newer version of the server brought the tables up to date while this process ran. Nothing of the request was stored.',
    'Send the same again after Retry-After: another process may take it. Whoever runs the server ends the older processes.',
  ),
  query_too_costly: code(
    400,
    'The query asks for too much',
    'Its depth, breadth, size or cost is above the limit.',
    'Ask for less at once; the detail names the limit.',
  ),
  unreadable_query: code(400, 'The query cannot be read', 'It does not fit the schema.', 'The detail says where.'),
  internal: code(500, 'A fault of ours', 'The server met a fault that is its own.', 'Report it with the request id.'),
} as const satisfies Readonly<Record<string, CodeEntry>>;

export type Code = keyof typeof CODES;
