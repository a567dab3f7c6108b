/**
 * A drawing context that writes SVG: the part of CanvasRenderingContext2D that Chart.js and our own marks use.
 * Of the packages for this, the one that is kept writes inline styles, which the page's policy forbids.
 */

type Matrix = readonly [number, number, number, number, number, number];

interface Pen {
  fillStyle: string | CanvasGradient | CanvasPattern;
  strokeStyle: string | CanvasGradient | CanvasPattern;
  lineWidth: number;
  lineCap: CanvasLineCap;
  lineJoin: CanvasLineJoin;
  lineDashOffset: number;
  globalAlpha: number;
  font: string;
  textAlign: CanvasTextAlign;
  textBaseline: CanvasTextBaseline;
}

interface State extends Pen {
  readonly matrix: Matrix;
  readonly dash: readonly number[];
  readonly clip: string | undefined;
}

const START: Pen = {
  fillStyle: '#000000',
  strokeStyle: '#000000',
  lineWidth: 1,
  lineCap: 'butt',
  lineJoin: 'miter',
  lineDashOffset: 0,
  globalAlpha: 1,
  font: '10px sans-serif',
  textAlign: 'start',
  textBaseline: 'alphabetic',
};

export class SvgContext implements Pen {
  fillStyle = START.fillStyle;
  strokeStyle = START.strokeStyle;
  lineWidth = START.lineWidth;
  lineCap = START.lineCap;
  lineJoin = START.lineJoin;
  lineDashOffset = START.lineDashOffset;
  globalAlpha = START.globalAlpha;
  font = START.font;
  textAlign = START.textAlign;
  textBaseline = START.textBaseline;

  /** What Chart.js takes the size from. */
  readonly canvas: { width: number; height: number; getContext: () => SvgContext };
  readonly #measure: CanvasRenderingContext2D;
  readonly #prefix: string;
  readonly #clips: string[] = [];
  readonly #drawn: string[] = [];
  readonly #saved: State[] = [];
  #matrix: Matrix = [1, 0, 0, 1, 0, 0];
  #dash: readonly number[] = [];
  #clip: string | undefined;
  #path = '';

  /** `prefix` keeps the names of several drawings in one picture apart; text is measured with `measure`. */
  constructor(width: number, height: number, measure: CanvasRenderingContext2D, prefix: string) {
    this.canvas = { width, height, getContext: () => this };
    this.#measure = measure;
    this.#prefix = prefix;
  }

  /** The drawing so far, as the inside of an SVG element. */
  content(): string {
    const clips = this.#clips.length === 0 ? '' : `<defs>${this.#clips.join('')}</defs>`;
    return clips + this.#drawn.join('');
  }

  save(): void {
    const { fillStyle, strokeStyle, lineWidth, lineCap, lineJoin, lineDashOffset } = this;
    const { globalAlpha, font, textAlign, textBaseline } = this;
    this.#saved.push({
      ...{ fillStyle, strokeStyle, lineWidth, lineCap, lineJoin, lineDashOffset },
      ...{ globalAlpha, font, textAlign, textBaseline },
      matrix: this.#matrix,
      dash: this.#dash,
      clip: this.#clip,
    });
  }

  restore(): void {
    const state = this.#saved.pop();
    if (!state) return;
    const { matrix, dash, clip, ...pen } = state;
    Object.assign(this, pen);
    this.#matrix = matrix;
    this.#dash = dash;
    this.#clip = clip;
  }

  setTransform(a = 1, b = 0, c = 0, d = 1, e = 0, f = 0): void {
    this.#matrix = [a, b, c, d, e, f];
  }

  resetTransform(): void {
    this.setTransform();
  }

  translate(x: number, y: number): void {
    this.#multiply([1, 0, 0, 1, x, y]);
  }

  scale(x: number, y: number): void {
    this.#multiply([x, 0, 0, y, 0, 0]);
  }

  rotate(angle: number): void {
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    this.#multiply([cos, sin, -sin, cos, 0, 0]);
  }

  setLineDash(segments: Iterable<number>): void {
    this.#dash = [...segments];
  }

  getLineDash(): number[] {
    return [...this.#dash];
  }

  beginPath(): void {
    this.#path = '';
  }

  closePath(): void {
    this.#path += 'Z';
  }

  moveTo(x: number, y: number): void {
    this.#path += `M${this.#at(x, y)}`;
  }

  lineTo(x: number, y: number): void {
    this.#path += `${this.#path === '' ? 'M' : 'L'}${this.#at(x, y)}`;
  }

  bezierCurveTo(ax: number, ay: number, bx: number, by: number, x: number, y: number): void {
    this.#path += `C${this.#at(ax, ay)} ${this.#at(bx, by)} ${this.#at(x, y)}`;
  }

  quadraticCurveTo(ax: number, ay: number, x: number, y: number): void {
    this.#path += `Q${this.#at(ax, ay)} ${this.#at(x, y)}`;
  }

  rect(x: number, y: number, width: number, height: number): void {
    this.moveTo(x, y);
    this.lineTo(x + width, y);
    this.lineTo(x + width, y + height);
    this.lineTo(x, y + height);
    this.closePath();
  }

  /** In pieces of at most a third of a turn: an SVG arc cannot be a whole circle. */
  arc(x: number, y: number, radius: number, start: number, end: number, backwards = false): void {
    const whole = 2 * Math.PI;
    let turn = end - start;
    if (Math.abs(turn) >= whole) turn = backwards ? -whole : whole;
    else if (!backwards && turn < 0) turn += whole;
    else if (backwards && turn > 0) turn -= whole;
    this.lineTo(x + radius * Math.cos(start), y + radius * Math.sin(start));
    const pieces = Math.max(1, Math.ceil(Math.abs(turn) / (whole / 3)));
    const r = short(radius * Math.hypot(this.#matrix[0], this.#matrix[1]));
    for (let piece = 1; piece <= pieces; piece++) {
      const angle = start + (turn * piece) / pieces;
      const to = this.#at(x + radius * Math.cos(angle), y + radius * Math.sin(angle));
      this.#path += `A${r} ${r} 0 0 ${turn < 0 ? 0 : 1} ${to}`;
    }
  }

  clip(): void {
    const name = `${this.#prefix}-${this.#clips.length + 1}`;
    const outer = this.#clip === undefined ? '' : ` clip-path="url(#${this.#clip})"`;
    this.#clips.push(`<clipPath id="${name}"${outer}><path d="${this.#path}"/></clipPath>`);
    this.#clip = name;
  }

  fill(): void {
    if (this.#path !== '') this.#put(`<path d="${this.#path}" ${this.#filled()}`, '/>');
  }

  stroke(): void {
    if (this.#path !== '') this.#put(`<path d="${this.#path}" fill="none" ${this.#stroked()}`, '/>');
  }

  fillRect(x: number, y: number, width: number, height: number): void {
    this.beginPath();
    this.rect(x, y, width, height);
    this.fill();
  }

  strokeRect(x: number, y: number, width: number, height: number): void {
    this.beginPath();
    this.rect(x, y, width, height);
    this.stroke();
  }

  /** Paper is white already. */
  clearRect(): void {
    this.#drawn.length = 0;
  }

  fillText(text: string, x: number, y: number): void {
    this.#text(text, x, y, this.#filled());
  }

  strokeText(text: string, x: number, y: number): void {
    this.#text(text, x, y, `fill="none" ${this.#stroked()}`);
  }

  measureText(text: string): TextMetrics {
    this.#measure.font = this.font;
    return this.#measure.measureText(text);
  }

  #text(text: string, x: number, y: number, paint: string): void {
    this.#measure.font = this.font;
    const [style = '', weight = '', size = '', family = ''] =
      /^(?:(italic|normal) )?(?:(\d+|bold|normal) )?([\d.]+px)(?:\/\S+)? (.*)$/.exec(this.font)?.slice(1) ??
      [];
    const { fontBoundingBoxAscent: above, fontBoundingBoxDescent: below } = this.#measure.measureText(text);
    const down =
      this.textBaseline === 'middle'
        ? (above - below) / 2
        : this.textBaseline === 'top'
          ? above
          : this.textBaseline === 'bottom'
            ? -below
            : 0;
    const anchor = { center: 'middle', right: 'end', end: 'end', left: 'start', start: 'start' }[
      this.textAlign
    ];
    const [a, b, c, d] = this.#matrix;
    const place = a === 1 && b === 0 && c === 0 && d === 1 ? undefined : this.#matrix.map(short).join(' ');
    const [px, py] = place === undefined ? this.#point(x, y + down) : [x, y + down];
    this.#put(
      `<text x="${short(px)}" y="${short(py)}"` +
        (place === undefined ? '' : ` transform="matrix(${place})"`) +
        ` font-family="${escaped(family)}" font-size="${size}"` +
        (weight === '' ? '' : ` font-weight="${weight}"`) +
        (style === 'italic' ? ' font-style="italic"' : '') +
        (anchor === 'start' ? '' : ` text-anchor="${anchor}"`) +
        ` ${paint}`,
      `>${escaped(text)}</text>`,
    );
  }

  #put(start: string, end: string): void {
    const clip = this.#clip === undefined ? '' : ` clip-path="url(#${this.#clip})"`;
    const alpha = this.globalAlpha === 1 ? '' : ` opacity="${short(this.globalAlpha)}"`;
    this.#drawn.push(start + clip + alpha + end);
  }

  #filled(): string {
    return `fill="${paintOf(this.fillStyle)}"`;
  }

  #stroked(): string {
    const scale = Math.hypot(this.#matrix[0], this.#matrix[1]);
    return (
      `stroke="${paintOf(this.strokeStyle)}" stroke-width="${short(this.lineWidth * scale)}"` +
      (this.#dash.length === 0
        ? ''
        : ` stroke-dasharray="${this.#dash.map((each) => short(each * scale)).join(' ')}"`) +
      (this.lineCap === 'butt' ? '' : ` stroke-linecap="${this.lineCap}"`) +
      (this.lineJoin === 'miter' ? '' : ` stroke-linejoin="${this.lineJoin}"`)
    );
  }

  #multiply([a, b, c, d, e, f]: Matrix): void {
    const [A, B, C, D, E, F] = this.#matrix;
    this.#matrix = [
      A * a + C * b,
      B * a + D * b,
      A * c + C * d,
      B * c + D * d,
      A * e + C * f + E,
      B * e + D * f + F,
    ];
  }

  #point(x: number, y: number): [number, number] {
    const [a, b, c, d, e, f] = this.#matrix;
    return [a * x + c * y + e, b * x + d * y + f];
  }

  #at(x: number, y: number): string {
    return this.#point(x, y).map(short).join(' ');
  }
}

/** Hundredths of a pixel are enough. */
function short(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** Our figures paint in plain colours. */
function paintOf(style: string | CanvasGradient | CanvasPattern): string {
  return typeof style === 'string' ? escaped(style) : 'none';
}

export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
