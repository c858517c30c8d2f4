/* Counted things, in singular and plural. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* All (transfer full): "1 detection", "63 detections". */
char *tpt_phrase_detections (double n);
char *tpt_phrase_trap_nights (double n);
char *tpt_phrase_stations (guint n);
char *tpt_phrase_frames (double n);
char *tpt_phrase_visits (guint n);

G_END_DECLS
