/* The dark time a pass's cameras worked, by the moon. */
#pragma once

#include "tpt-job-moon.h"
#include "tpt-pass-private.h"

G_BEGIN_DECLS

/* Below this the sun leaves it dark, degrees: the end of civil twilight. */
#define TPT_DARK_ALTITUDE (-6.0)

/**
 * TptMoonNights:
 * @dark_ms: by the eighth of the moon's round, new moon first
 * @all_ms: of these
 * @lit: mean lit share of the disc over them; NAN without any
 * @nights: trap nights of stations with a position
 * @without_place: stations that worked and have none
 */
typedef struct {
  double dark_ms[TPT_MOON_PARTS];
  double all_ms;
  double lit;
  double nights;
  guint without_place;
} TptMoonNights;

/* %FALSE with G_IO_ERROR_CANCELLED. */
gboolean tpt_moon_nights_sum (TptPass *pass, TptMoonNights *nights, GCancellable *cancellable, GError **error);

G_END_DECLS
