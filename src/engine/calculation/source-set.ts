/**
 * Sets of sources, each made once, so that results that rest on the same sources are added place by place. Joining
 * two sets, and finding where the sources of one stand in another, is remembered by pair.
 */
export class SourceSet {
  /** 0 for that of no sources. */
  readonly number: number;
  /** Ascending. */
  readonly ids: Int32Array;
  readonly unions = new Map<SourceSet, SourceSet>();
  readonly #places = new Map<SourceSet, Int32Array>();
  /** What was asked for last. */
  lastWhole: SourceSet = this;
  lastPlaces: Int32Array;

  constructor(number: number, ids: Int32Array) {
    this.number = number;
    this.ids = ids;
    this.lastPlaces = ids.map((_, k) => k);
  }

  findPlaces(whole: SourceSet): Int32Array {
    let places = this.#places.get(whole);
    if (!places) {
      let at = 0;
      places = this.ids.map((id) => {
        while (whole.ids[at] !== id) at++;
        return at;
      });
      this.#places.set(whole, places);
    }
    this.lastWhole = whole;
    this.lastPlaces = places;
    return places;
  }
}

export const NO_SOURCES = new SourceSet(0, new Int32Array(0));

export class SourceSets {
  readonly #known = new Map<number, SourceSet[]>();
  readonly #all: SourceSet[] = [NO_SOURCES];
  /** Of one source, by its id. */
  readonly #singles: SourceSet[] = [];

  /** The set of these ids, which stand in ascending order. */
  of(ids: Int32Array): SourceSet {
    if (ids.length === 0) return NO_SOURCES;
    let hash = ids.length;
    for (let k = 0; k < ids.length; k++) hash = (Math.imul(hash, 31) + ids[k]!) | 0;
    const alike = this.#known.get(hash);
    const known = alike?.find((set) => sameIds(set.ids, ids));
    if (known) return known;
    const set = new SourceSet(this.#all.length, ids);
    this.#all.push(set);
    if (alike) alike.push(set);
    else this.#known.set(hash, [set]);
    return set;
  }

  single(id: number): SourceSet {
    let set = this.#singles[id];
    if (!set) {
      set = this.of(Int32Array.of(id));
      this.#singles[id] = set;
    }
    return set;
  }

  numbered(number: number): SourceSet {
    return this.#all[number]!;
  }

  /** Those of either. */
  union(a: SourceSet, b: SourceSet): SourceSet {
    if (a === b || b === NO_SOURCES) return a;
    if (a === NO_SOURCES) return b;
    let both = a.unions.get(b);
    if (!both) {
      const ids = merged(a.ids, b.ids);
      both = ids.length === a.ids.length ? a : ids.length === b.ids.length ? b : this.of(ids);
      a.unions.set(b, both);
    }
    return both;
  }

  /** Formulas came or went: what was remembered may never be asked for again. */
  forget(): void {
    this.#known.clear();
    this.#all.length = 1;
    this.#singles.length = 0;
  }
}

/** Where each source of `part` stands in `whole`, which holds them all. */
export function placesIn(whole: SourceSet, part: SourceSet): Int32Array {
  return whole === part.lastWhole ? part.lastPlaces : part.findPlaces(whole);
}

function sameIds(a: Int32Array, b: Int32Array): boolean {
  if (a.length !== b.length) return false;
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return false;
  return true;
}

function merged(a: Int32Array, b: Int32Array): Int32Array {
  const out = new Int32Array(a.length + b.length);
  let i = 0;
  let j = 0;
  let n = 0;
  while (i < a.length && j < b.length) {
    const x = a[i]!;
    const y = b[j]!;
    out[n++] = x < y ? x : y;
    if (x <= y) i++;
    if (y <= x) j++;
  }
  while (i < a.length) out[n++] = a[i++]!;
  while (j < b.length) out[n++] = b[j++]!;
  return out.slice(0, n);
}
