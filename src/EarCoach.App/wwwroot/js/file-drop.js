/** Files come in by dropping them anywhere on the page, or by the browser's file dialog. */

const LARGEST_MB = 16;

/** Calls back with dropped or chosen files while enabled() holds; a drop elsewhere does nothing, so that the page is never left by one. */
export function acceptFiles(enabled, onFiles) {
  const veil = document.getElementById("drop-veil");
  const input = document.getElementById("file-choice");
  let depth = 0;
  const show = isShown => { veil.hidden = !isShown; };
  const isFiles = event => [...(event.dataTransfer?.types ?? [])].includes("Files");
  document.addEventListener("dragenter", event => {
    if (isFiles(event)) {
      depth += 1;
      show(enabled());
    }
  });
  document.addEventListener("dragleave", event => {
    if (isFiles(event)) {
      depth = Math.max(0, depth - 1);
      show(depth > 0 && enabled());
    }
  });
  document.addEventListener("dragover", event => {
    if (isFiles(event)) {
      event.preventDefault();
      event.dataTransfer.dropEffect = enabled() ? "copy" : "none";
    }
  });
  document.addEventListener("drop", event => {
    if (!isFiles(event)) {
      return;
    }
    event.preventDefault();
    depth = 0;
    show(false);
    if (enabled() && event.dataTransfer.files.length) {
      onFiles([...event.dataTransfer.files]);
    }
  });
  for (const button of document.querySelectorAll("[data-choose-file]")) {
    button.addEventListener("click", () => input.click());
  }
  input.addEventListener("change", () => {
    const files = [...input.files];
    input.value = ""; // so that the same file can be chosen again
    if (files.length) {
      onFiles(files);
    }
  });
}

/** Why a file cannot be sent; "" where it can. */
export const sizeProblem = file => file.size > LARGEST_MB * 1024 * 1024
  ? `${file.name} has ${Math.ceil(file.size / 1024 / 1024)} MB; at most ${LARGEST_MB} MB are read. Export only the part you practise.`
  : "";
