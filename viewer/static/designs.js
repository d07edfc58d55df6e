// Kept designs.
"use strict";

const designs = (() => ({ actions: {} }))();
