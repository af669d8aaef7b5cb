// Where a kept copy answers: says when a new edition is ready, and changes to it on request.
"use strict";

(async () => {
  const workers = navigator.serviceWorker;
  if (!workers?.controller) return;
  const registration = await workers.getRegistration();
  if (!registration) return;
  let asked = false;

  function change() {
    asked = true;
    if (registration.waiting) registration.waiting.postMessage("take over");
    else location.reload(); // another page has asked already
  }

  function offer() {
    if (document.querySelector(".new-edition")) return;
    const notice = document.createElement("p");
    notice.className = "new-edition";
    notice.innerHTML = '<span role="status"></span> ' +
      '<button type="button" class="link">Change to it</button>';
    document.querySelector(".masthead").append(notice);
    notice.firstChild.textContent = "A new edition is ready."; // after it is there, to be read out
    notice.lastChild.addEventListener("click", change);
  }

  function watch(worker) {
    worker?.addEventListener("statechange", () => {
      if (worker === registration.waiting) offer();
    });
  }

  if (registration.waiting) offer();
  watch(registration.installing);
  registration.addEventListener("updatefound", () => watch(registration.installing));
  workers.addEventListener("controllerchange", () => (asked ? location.reload() : offer()));
})();
