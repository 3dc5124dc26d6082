/** Small drawings taken from the page's own symbols. */

const SVG = "http://www.w3.org/2000/svg";

export function shape(symbol, className = "", viewBox = "0 0 100 100") {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", viewBox);
  svg.setAttribute("aria-hidden", "true");
  svg.setAttribute("class", `shape-${symbol} ${className}`.trim());
  const use = document.createElementNS(SVG, "use");
  use.setAttribute("href", `#${symbol}`);
  svg.append(use);
  return svg;
}

export function element(name, { className, text, ...attributes } = {}, ...children) {
  const made = document.createElement(name);
  if (className) {
    made.className = className;
  }
  if (text !== undefined) {
    made.textContent = text;
  }
  for (const [key, value] of Object.entries(attributes)) {
    made.setAttribute(key, value);
  }
  made.append(...children);
  return made;
}
