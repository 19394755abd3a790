/** Stands in for a style file where nothing is drawn. */
module.exports = {};
