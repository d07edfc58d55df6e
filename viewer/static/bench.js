// Bench mode.
"use strict";

const bench = (() => ({ actions: {} }))();
