/** A pause that can be cut short. */
export class Alarm {
  #wake: (() => void) | null = null;
  #rung = false;

  /** Ends the pause under way, or else the next one. */
  ring(): void {
    this.#rung = true;
    this.#wake?.();
  }

  async pause(ms: number): Promise<void> {
    if (!this.#rung) {
      let timer: NodeJS.Timeout | undefined;
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
        timer = setTimeout(resolve, ms).unref();
      });
      clearTimeout(timer);
      this.#wake = null;
    }
    this.#rung = false;
  }
}
