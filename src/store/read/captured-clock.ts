/** Of a row `l` of the ledger: the clock of its own change. The state goes on to tell that of the first. */
export const CAPTURED_CLOCK = "case when l.rev = 1 then l.state -> 'clock' else l.intent -> 'clock' end";
