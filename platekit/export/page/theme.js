"use strict";
// Whether the page is dark, and who says so: the system, or whoever looks.

function dark() {
  const wish = document.documentElement.dataset.theme;
  return wish ? wish === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
}

// Follow a choice of colours, now and whenever it changes; `changed` draws what is no element.
function chooseColours(choice, changed) {
  try {
    choice.value = localStorage.getItem("colours") || "";
  } catch { /* some browsers keep nothing for files */ }
  const take = () => {
    if (choice.value) document.documentElement.dataset.theme = choice.value;
    else delete document.documentElement.dataset.theme;
    changed();
  };
  choice.addEventListener("change", () => {
    take();
    try {
      localStorage.setItem("colours", choice.value);
    } catch { /* then the choice holds for now */ }
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", changed);
  take();
}
