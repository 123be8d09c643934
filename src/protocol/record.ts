/** What a device said of its own clocks when it captured a record. */
export interface DeviceClock {
  /** Wall clock, with offset, as the device showed it. */
  readonly wall: string;
  /** Milliseconds since an unknown start that is fixed within one boot. */
  readonly monotonicMs: number;
  /** Names the boot, so that monotonic times of two boots are never compared. */
  readonly boot: string;
  /** Order in which this device captured its records. */
  readonly sequence: number;
}

/** A device clock with what the server measured when the record reached it. */
export interface StampedClock extends DeviceClock {
  /** Server time minus the device's wall clock at the push, in ms: add it to the device's time to correct it. */
  readonly differenceMs: number;
  /** Half of the round trip that the device last saw, in ms; 0 when it said nothing. */
  readonly uncertaintyMs: number;
}

/** Where and by whom an observation was made. Times are kept as entered. */
export interface Observed {
  /** When it was seen at the well, with offset. */
  readonly at: string;
  /** When it was typed, with offset. */
  readonly entered: string;
  readonly captured: 'at-the-well' | 'same-day' | 'from-paper';
  /** The member who read the instrument. */
  readonly readBy: string;
  /** The member who typed it. */
  readonly writtenBy: string;
}

export interface Voided {
  readonly reason: string;
  readonly by: string | null;
}

/** Who handed in what another device captured. */
export interface CarriedBy {
  /** Null where it was a token of no device. */
  readonly device: string | null;
  /** The token where there was no device: nothing else says who it was. */
  readonly token?: string;
  /** Whether its crew, or its role, gave it a right of its own where it wrote; false where it once had none. */
  readonly right: boolean;
  /** The last revision of the record that it brought. */
  readonly rev: number;
}

/** A record as it stands on the wire, in the ledger and on every phone. */
export interface RecordState<Fields = Readonly<Record<string, unknown>>> {
  readonly kind: string;
  readonly id: string;
  /** 1, 2, 3 ... in the order in which the server took the changes. */
  readonly rev: number;
  readonly voided: Voided | null;
  /** The member on whose behalf the last change was made; null where the server derived it. */
  readonly by: string | null;
  /** The writing client and its mutation that brought this revision; null where the server derived it. */
  readonly client: string | null;
  readonly mutation: number | null;
  /** Reason of the last correction, void or re-homing, if it had one. */
  readonly reason: string | null;
  readonly clock: StampedClock | null;
  /**
   * Written by a crew whose assignment in the event had ended, which its phone could not know yet: the assignment, and
   * when the server took its end. Not there on any other record.
   */
  readonly afterAssignment?: { readonly assignment: string; readonly ended: string };
  /** Who handed in copies of what another device captured, each once. Not there on any other record. */
  readonly carriedBy?: readonly CarriedBy[];
  readonly fields: Fields;
}
