/** Whether the browser may clear what is kept here when the disk runs low (Storage Standard, persistence). */

function storage(): StorageManager | undefined {
  return (navigator as Partial<Navigator>).storage;
}

export interface Room {
  /** The browser has promised to clear nothing by itself. */
  readonly stays: boolean;
  readonly used?: number;
  readonly quota?: number;
}

export async function room(): Promise<Room> {
  try {
    const [stays, estimate] = await Promise.all([storage()?.persisted() ?? false, storage()?.estimate()]);
    const { usage, quota } = estimate ?? {};
    return {
      stays,
      ...(usage === undefined ? {} : { used: usage }),
      ...(quota === undefined ? {} : { quota }),
    };
  } catch {
    return { stays: false };
  }
}

/** Asks the browser once; some ask the person. */
export async function askToStay(): Promise<boolean> {
  try {
    const manager = storage();
    return (await manager?.persisted()) === true || (await manager?.persist()) === true;
  } catch {
    return false;
  }
}
