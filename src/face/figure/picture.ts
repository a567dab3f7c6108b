/** A figure as a picture to keep or to print: its title, its line, its panels and its units, as SVG or PNG. */
import { BasicPlatform, Chart } from 'chart.js';
import './chart.ts';
import { svgOf, type Drawing, type Layout } from './drawing.ts';
import type { FigureTheme, Panel } from './kind.ts';
import { escaped, SvgContext } from './svg-context.ts';

export interface Picture {
  readonly title: string;
  /** What the figure says, under its title. */
  readonly line: string;
  readonly drawings: readonly Drawing[];
  readonly panels: readonly Panel[];
}

const EDGE = 16;
const TITLE_SIZE = 16;
const LINE_SIZE = 12;
const LINE_HEIGHT = 17;
const BETWEEN = 8;
const FINE = 16;

/** An SVG file of the given width in pixels; text stays text. `edge`: paper left free around it. */
export function asSvg(picture: Picture, theme: FigureTheme, width: number, edge = EDGE): string {
  const measure = measuring();
  const inner = width - 2 * edge;
  // Measured large: at the size of a line some screens round each letter to whole pixels, and paper does not.
  measure.font = `${LINE_SIZE * FINE}px ${theme.font}`;
  const said = broken(picture.line, inner, (text) => measure.measureText(text).width / FINE);
  const head = edge + TITLE_SIZE + 6 + said.length * LINE_HEIGHT;
  const drawn = [
    ...picture.drawings.map((drawing) => {
      const layout = drawing.layout(inner);
      return { height: layout.height, content: shapesContent(layout, theme) };
    }),
    ...picture.panels.map((panel, at) => ({
      height: panel.height,
      content: panelContent(panel, inner, measure, `p${at + 1}`),
    })),
  ];
  const height = head + edge + drawn.reduce((sum, each) => sum + each.height + BETWEEN, 0);
  const family = `font-family="${escaped(theme.font)}"`;
  const parts = [
    `<rect width="${width}" height="${height}" fill="${theme.sheet}"/>`,
    `<text x="${edge}" y="${edge + TITLE_SIZE - 2}" ${family} font-size="${TITLE_SIZE}" font-weight="650" fill="${theme.ink}">${escaped(picture.title)}</text>`,
    ...said.map(
      (text, at) =>
        `<text x="${edge}" y="${edge + TITLE_SIZE + 2 + (at + 1) * LINE_HEIGHT}" ${family} font-size="${LINE_SIZE}" fill="${theme.soft}">${escaped(text)}</text>`,
    ),
  ];
  let top = head;
  for (const each of drawn) {
    parts.push(`<svg x="${edge}" y="${top}" width="${inner}" height="${each.height}">${each.content}</svg>`);
    top += each.height + BETWEEN;
  }
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img">` +
    `<title>${escaped(picture.title)}</title>${parts.join('')}</svg>`
  );
}

/** A PNG of an SVG file, at twice its size: sharp enough for a printed page. */
export async function asPng(svg: string, scale = 2): Promise<Blob> {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.naturalWidth * scale;
    canvas.height = image.naturalHeight * scale;
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) => {
      canvas.toBlob((blob) => {
        if (blob) resolve(blob);
        else reject(new Error('The picture could not be made.'));
      }, 'image/png');
    });
  } finally {
    URL.revokeObjectURL(address);
  }
}

function shapesContent(layout: Layout, theme: FigureTheme): string {
  const content = layout.shapes.flatMap(svgOf).map(({ name, attributes, text = '' }) => {
    const written = Object.entries(attributes).map(([key, value]) => ` ${key}="${escaped(String(value))}"`);
    return `<${name}${written.join('')}>${escaped(text)}</${name}>`;
  });
  return `<g font-family="${escaped(theme.font)}">${content.join('')}</g>`;
}

function panelContent(
  panel: Panel,
  width: number,
  measure: CanvasRenderingContext2D,
  prefix: string,
): string {
  const context = new SvgContext(width, panel.height, measure, prefix);
  const chart = new Chart(context.canvas as unknown as HTMLCanvasElement, {
    ...panel.chart,
    // A line with a `segment` is drawn by the context's own calls, others by a path that only a canvas can read.
    data: { datasets: panel.chart.data.datasets.map((set) => ({ ...set, segment: {} })) },
    options: { ...panel.chart.options, responsive: false, devicePixelRatio: 1 },
    platform: BasicPlatform,
  });
  const content = context.content();
  chart.destroy();
  return content;
}

function measuring(): CanvasRenderingContext2D {
  const context = document.createElement('canvas').getContext('2d');
  if (!context) throw new Error('This browser cannot measure text.');
  return context;
}

/** Lines no wider than `width`, broken at spaces. */
function broken(text: string, width: number, widthOf: (text: string) => number): string[] {
  const lines: string[] = [];
  // A number keeps its sign.
  for (const word of text.split(/ (?!%)/)) {
    const last = lines.at(-1);
    if (last !== undefined && widthOf(`${last} ${word}`) <= width)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
