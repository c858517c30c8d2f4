/* Is a file what its name says? Told from its bytes while they are copied, and
 * from its metadata. Private to intake/.
 */
#pragma once

#include "tpt-exif.h"
#include "tpt-jpeg-walk.h"
#include "tpt-scan.h"

G_BEGIN_DECLS

/**
 * TptIntakeJudge: sees the bytes of one file.
 * @head: its first bytes
 * @n_head: how many of them there are
 * @walk: (owned):
 */
typedef struct {
  guint8 head[32];
  gsize n_head;
  TptJpegWalk *walk;
} TptIntakeJudge;

/**
 * TptIntakeVerdict:
 * @kind: by content where that is clear
 * @exif: (owned) (nullable): %NULL when unreadable
 * @damage: (owned) (nullable): what is wrong with the picture
 * @unreadable: (owned) (nullable): why it is no frame at all
 */
typedef struct {
  TptScanKind kind;
  TptExif *exif;
  char *damage;
  char *unreadable;
} TptIntakeVerdict;

void tpt_intake_judge_init (TptIntakeJudge *judge);
void tpt_intake_judge_clear (TptIntakeJudge *judge);
void tpt_intake_judge_feed (TptIntakeJudge *judge, const guint8 *data, gsize length);

/* @path: where the content can be read; @file: what the listing says of it. */
void tpt_intake_judge_decide (TptIntakeJudge *judge, const char *path, const TptScanFile *file,
                              TptIntakeVerdict *verdict);
void tpt_intake_verdict_clear (TptIntakeVerdict *verdict);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TptIntakeJudge, tpt_intake_judge_clear)
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TptIntakeVerdict, tpt_intake_verdict_clear)

G_END_DECLS
