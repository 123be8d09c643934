/** A clock that runs out, as an entry of a calendar. */
export interface CalendarDeadline {
  /** Never changes for one deadline: the id of its record. */
  readonly uid: string;
  /** Grows whenever the deadline moves: the revision of its record. RFC 5545, 3.8.7.4. */
  readonly sequence: number;
  readonly dueAt: string;
  /** When the deadline was last changed, as an instant. */
  readonly changedAt: string;
  readonly title: string;
  readonly detail?: string;
  readonly place?: string;
  /** Met, dropped or void: calendars that show it are told to strike it. */
  readonly isCancelled?: boolean;
  readonly alarmMinutesBefore?: readonly number[];
}

export interface DeadlineCalendar {
  readonly name: string;
  readonly deadlines: readonly CalendarDeadline[];
  /** How often a reader should ask again. RFC 7986, 5.7. */
  readonly refreshMinutes?: number;
}
