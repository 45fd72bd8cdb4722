// @vitest-environment jsdom
import { expect, it } from 'vitest';
import { cleanSvg } from './clean-svg';

const svg = (inner: string, attributes = '') =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"${attributes}>${inner}</svg>`;

it('keeps what is drawn, its titles and its data', () => {
  const picture = cleanSvg(svg('<title>Lay</title><g data-spot="left front"><text x="1">+9</text></g>'));
  expect(picture?.querySelector('[data-spot]')?.getAttribute('data-spot')).toBe('left front');
  expect(picture?.textContent).toBe('Lay+9');
  expect(picture?.ownerDocument).toBe(document);
});

it('leaves out what could run, restyle the page or fetch from elsewhere', () => {
  const picture = cleanSvg(svg(
    '<script>1</script><style>*{}</style><foreignObject><p xmlns="http://www.w3.org/1999/xhtml">x</p></foreignObject>' +
    '<image href="https://example.org/x.png"/><use href="https://example.org/#a"/><use href="#a"/>' +
    '<rect onclick="1" style="fill:red" fill="url(https://example.org/#p)" stroke="url(#p)"/>', ' onload="1"'));
  expect(picture?.outerHTML).not.toMatch(/script|style|foreignObject|image|example\.org|onclick|onload/);
  expect(picture?.querySelector('use[href="#a"]')).not.toBeNull();
  expect(picture?.querySelector('rect')?.getAttribute('stroke')).toBe('url(#p)');
});

it('says no to what is no picture', () => {
  expect(cleanSvg('<html></html>')).toBeNull();
  expect(cleanSvg('not xml')).toBeNull();
});
