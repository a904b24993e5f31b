"use strict";
(() => {
  const $ = (id) => document.getElementById(id);
  const box = $("q"), form = $("ask"), results = $("results"), live = $("live"), last = $("last");
  const QUIET = 60, STOPPED = 350, KEPT = 5, STORE = "last questions";

  const state = () => {
    const query = new URLSearchParams();
    for (const [name, value] of new FormData(form)) if (value.trim()) query.append(name, value.trim());
    return query;
  };

  // Results follow the typing; an answer that a newer question has overtaken is dropped.
  let running = null, timer = 0, stopped = 0;
  const look = async (keep, typing) => {
    const query = state();
    const address = "/counter" + (query.size ? "?" + query : "");
    if (running) running.abort();
    running = new AbortController();
    try {
      const answer = await fetch((typing ? "/counter/typing?" : "/counter/hits?") + query, { signal: running.signal });
      const text = await answer.text();
      results.innerHTML = text;
      const found = results.querySelector("[data-summary]");
      if (typing) return; // a screen reader hears what stands, not every letter
      live.textContent = found ? found.dataset.summary : results.textContent.trim();
      history[keep ? "pushState" : "replaceState"](null, "", address);
      if (answer.ok) remember(query, keep);
    } catch (e) {
      if (e.name !== "AbortError") live.textContent = "The page does not answer: is fitfill serve still running?";
    }
  };

  // The last questions stay in this tab alone.
  const kept = () => { try { return JSON.parse(sessionStorage.getItem(STORE)) || []; } catch { return []; } };
  const showLast = () => {
    const list = kept();
    last.hidden = list.length === 0;
    last.replaceChildren();
    if (last.hidden) return;
    const head = document.createElement("small");
    head.textContent = "asked before:";
    last.append(head);
    for (const { text, href } of list) {
      const a = document.createElement("a");
      a.href = href;
      a.textContent = text;
      last.append(a);
    }
  };
  let settled = 0;
  const remember = (query, now) => {
    clearTimeout(settled);
    const text = [query.get("q"), query.get("engine")].filter(Boolean).join(" · ");
    if (!query.get("q")) return;
    settled = setTimeout(() => {
      const list = kept().filter((k) => k.text !== text && !text.startsWith(k.text));
      list.unshift({ text, href: "/counter?" + query });
      sessionStorage.setItem(STORE, JSON.stringify(list.slice(0, KEPT)));
      showLast();
    }, now ? 0 : 1200);
  };

  if (form && results) {
    const quiet = () => { clearTimeout(timer); clearTimeout(stopped); };
    form.addEventListener("input", () => { quiet(); timer = setTimeout(look, QUIET, false, true); stopped = setTimeout(look, STOPPED, false, false); });
    form.addEventListener("submit", (e) => { e.preventDefault(); quiet(); look(true, false); });
    addEventListener("popstate", () => location.reload());
    showLast();
    if (box.value) remember(state(), false);
    box.setSelectionRange(box.value.length, box.value.length);
  }

  document.addEventListener("keydown", (e) => {
    const typing = /^(INPUT|TEXTAREA|SELECT)$/.test(document.activeElement.tagName);
    if (e.key === "/" && !typing && box) {
      e.preventDefault();
      addEventListener("keyup", () => { box.focus(); box.select(); }, { once: true }); // so that the sign itself goes nowhere
      return;
    }
    if (e.key !== "ArrowDown" && e.key !== "ArrowUp" || typing && document.activeElement !== box) return;
    const stops = [...document.querySelectorAll(".hit .judged > details > summary")];
    if (!stops.length) return;
    const at = stops.indexOf(document.activeElement) + (e.key === "ArrowDown" ? 1 : -1);
    e.preventDefault();
    if (at < 0) { if (box) box.focus(); return; }
    const to = stops[Math.min(at, stops.length - 1)];
    to.focus();
    to.closest(".hit").scrollIntoView({ block: "nearest" });
  });

  // A sheet goes up with its progress shown; the answer takes the place of the page.
  const upload = document.querySelector("[data-upload]");
  if (upload) upload.addEventListener("submit", (e) => {
    e.preventDefault();
    const line = upload.querySelector(".progress"), bar = line.querySelector("progress"), says = line.querySelector("span");
    const go = new XMLHttpRequest();
    line.hidden = false;
    upload.querySelector("button").disabled = true;
    says.textContent = "sending";
    go.upload.addEventListener("progress", (p) => { if (p.lengthComputable) { bar.value = 100 * p.loaded / p.total; says.textContent = Math.round(bar.value) + " % sent"; } });
    go.upload.addEventListener("load", () => { bar.removeAttribute("value"); says.textContent = "reading it"; });
    go.addEventListener("error", () => { says.textContent = "The page does not answer: is fitfill serve still running?"; upload.querySelector("button").disabled = false; });
    go.addEventListener("load", () => {
      const answer = new DOMParser().parseFromString(go.responseText, "text/html").querySelector("main");
      document.querySelector("main").replaceWith(answer);
      answer.tabIndex = -1;
      answer.focus();
    });
    go.open("POST", upload.action);
    go.send(new FormData(upload));
  });

  for (const b of document.querySelectorAll("[data-print]")) {
    b.hidden = false;
    b.addEventListener("click", () => print());
  }
})();
