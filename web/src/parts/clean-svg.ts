// A picture of the server as an element of this page: the same SVG that the command line writes,
// with everything left out that could do more than be looked at.

const namespace = 'http://www.w3.org/2000/svg';
const allowed = new Set([
  'svg', 'g', 'path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon', 'text', 'tspan',
  'title', 'desc', 'defs', 'pattern', 'clipPath', 'linearGradient', 'stop', 'use', 'marker',
]);

function harmless(name: string, value: string): boolean {
  const plain = name.toLowerCase();
  if (plain.startsWith('on') || plain === 'style') return false;
  if (plain === 'href' || plain === 'xlink:href') return value.startsWith('#');
  return !/url\(\s*['"]?(?!#)/i.test(value);
}

/** The picture, or null where the text is none. */
export function cleanSvg(text: string): SVGSVGElement | null {
  const parsed = new DOMParser().parseFromString(text, 'image/svg+xml');
  const root = parsed.documentElement;
  if (root.localName !== 'svg' || root.namespaceURI !== namespace) return null;
  for (const element of [...root.querySelectorAll('*')]) {
    if (element.namespaceURI !== namespace || !allowed.has(element.localName)) element.remove();
  }
  for (const element of [root, ...root.querySelectorAll('*')]) {
    for (const { name, value } of [...element.attributes]) {
      if (!harmless(name, value)) element.removeAttribute(name);
    }
  }
  return document.importNode(root, true) as unknown as SVGSVGElement;
}
