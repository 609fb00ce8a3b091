// Ticks stay on this device; a tap enlarges a drawing; a link into a closed chapter opens it. The page reads well without any of it.
"use strict";
const job = document.body.dataset.job;
const remembered = (key) => { try { return localStorage.getItem(`${job}|${key}`) === "1"; } catch { return false; } };
const remember = (key, on) => {
  try { on ? localStorage.setItem(`${job}|${key}`, "1") : localStorage.removeItem(`${job}|${key}`); } catch { /* private window */ }
};
for (const box of document.querySelectorAll("input[data-tick]")) {
  const marked = box.closest("tr") ?? box.closest("label");
  const show = () => marked.classList.toggle("ticked", box.checked);
  box.checked = remembered(box.dataset.tick);
  box.addEventListener("change", () => { remember(box.dataset.tick, box.checked); show(); });
  show();
}
for (const button of document.querySelectorAll("figure button")) {
  button.addEventListener("click", (tap) => {
    const figure = button.parentElement;
    const box = button.getBoundingClientRect();
    const [along, down] = [(tap.clientX - box.left) / box.width, (tap.clientY - box.top) / box.height];
    const large = figure.classList.toggle("large");
    button.setAttribute("aria-pressed", String(large));
    if (large) {
      button.scrollLeft = along * button.scrollWidth - button.clientWidth / 2;
      button.scrollTop = down * button.scrollHeight - button.clientHeight / 2;
    }
  });
}
const opened = () => {
  const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const chapter = target && target.closest("details");
  if (chapter) { chapter.open = true; target.scrollIntoView(); }
};
addEventListener("hashchange", opened);
for (const link of document.querySelectorAll('a[href^="#"]')) link.addEventListener("click", () => setTimeout(opened));
opened();
