/* The maker notes of field cameras that the metadata library does not know. */
#pragma once

#include "tpt-exif.h"

G_BEGIN_DECLS

/**
 * tpt_exif_field_read:
 * @note: the bytes of Exif tag MakerNote
 * @length: how many
 * @exif: fills in the serial number, temperature, place in the burst and, only
 *   when @exif has no date yet, the time with %TPT_TIME_NOTE; what is known
 *   already and what makes no sense is left alone
 *
 * Returns: whether it is a note of a known kind
 */
gboolean tpt_exif_field_read (const guint8 *note, gsize length, TptExif *exif);

G_END_DECLS
