export function drawGrips() {}
export function startGrips() {}
