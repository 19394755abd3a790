-- Nothing asks for currencies by their former name any more.
DROP VIEW "sizing_standings";
