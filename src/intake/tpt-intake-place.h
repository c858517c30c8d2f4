/* Where a file of the card goes below the destination. Private to intake/. */
#pragma once

#include "tpt-copy.h"

G_BEGIN_DECLS

#define TPT_INTAKE_ASIDE "unreadable"

typedef struct _TptIntakePlaces TptIntakePlaces;

/* @destination: absolute; @prefix: below it, "" for none. */
TptIntakePlaces *tpt_intake_places_new (const char *destination, const char *prefix);
void tpt_intake_places_free (TptIntakePlaces *places);

/* (transfer full): @path, a path on a card in any bytes, as a path that every
 * file system takes: see tpt_intake_run(). */
char *tpt_intake_places_clean_path (const char *path);

/**
 * TptIntakePlace:
 * @TPT_PLACE_FREE: the name is free
 * @TPT_PLACE_SAME: the very content is there already
 * @TPT_PLACE_FAILED: see the error
 */
typedef enum {
  TPT_PLACE_FREE,
  TPT_PLACE_SAME,
  TPT_PLACE_FAILED,
} TptIntakePlace;

/* Whether a file of this size is where @source would go first: then its
 * content may be there already. */
gboolean tpt_intake_places_may_have (TptIntakePlaces *places, const char *source, gint64 bytes);

/**
 * tpt_intake_places_find:
 * @source: path on the card
 * @aside: whether it goes among the unreadable
 * @sha256: its content
 * @bytes: its size
 * @file: (out) (transfer full): its place below the destination
 *
 * The first name of @source, or of it with `-2`, `-3`..., that is not taken in
 * this run and is free or has the same content, which is read to make sure.
 */
TptIntakePlace tpt_intake_places_find (TptIntakePlaces *places, const char *source, gboolean aside,
                                       const char *sha256, gint64 bytes, char **file, GCancellable *cancellable,
                                       GError **error);

/* Nobody else gets @file in this run. */
void tpt_intake_places_take (TptIntakePlaces *places, const char *file);

/* (transfer full): absolute. */
char *tpt_intake_places_get_path (TptIntakePlaces *places, const char *file);

/* Makes the folders above @file, and remembers them for
 * tpt_intake_places_sync(). */
gboolean tpt_intake_places_make_folders (TptIntakePlaces *places, const char *file, GError **error);

/* Makes the names in all folders touched safe. */
gboolean tpt_intake_places_sync (TptIntakePlaces *places, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptIntakePlaces, tpt_intake_places_free)

G_END_DECLS
