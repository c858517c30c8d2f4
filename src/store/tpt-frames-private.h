/* What it means that somebody spoke of a trigger, and that people differ. */
#pragma once

#include "tpt-opinions.h"

/* Of an opinion that stands beside the one that counts and is not settled yet. */
#define TPT_OPEN_SQL "BETWEEN 2 AND " G_STRINGIFY (TPT_OPINION_SETTLED) " - 1"

/* Triggers anybody has said anything of, of the trigger or of one of its frames. */
#define TPT_SPOKEN_SQL \
  "SELECT o.trigger_id FROM observations o WHERE o.trigger_id > 0 AND o.type <> 'unclassified'" \
  " UNION SELECT f.trigger_id FROM observations o JOIN frames f ON f.id = o.frame_id" \
  " WHERE o.frame_id > 0 AND o.type <> 'unclassified' AND f.trigger_id > 0"

/* Triggers on which what counts and somebody else's word are not the same set of
 * types and species: something is said beside that does not count, or something
 * counts that a word beside does not say. What is settled is not asked about
 * again. */
#define TPT_CONTESTED_SQL \
  "SELECT o.trigger_id FROM observations o WHERE o.opinion " TPT_OPEN_SQL " AND o.trigger_id > 0 AND NOT EXISTS (" \
  "  SELECT 1 FROM observations m WHERE m.trigger_id = o.trigger_id AND coalesce(m.opinion, 1) < 2" \
  "  AND m.type = o.type AND m.species_id IS o.species_id)" \
  " UNION SELECT m.trigger_id FROM (SELECT DISTINCT trigger_id, opinion FROM observations" \
  "   WHERE opinion " TPT_OPEN_SQL " AND trigger_id > 0) k" \
  "  CROSS JOIN observations m ON m.trigger_id = k.trigger_id AND coalesce(m.opinion, 1) < 2 AND m.type <> 'unclassified'" \
  "  WHERE NOT EXISTS (SELECT 1 FROM observations o WHERE o.trigger_id = k.trigger_id AND o.opinion = k.opinion" \
  "   AND o.type = m.type AND o.species_id IS m.species_id)"
