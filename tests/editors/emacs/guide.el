;;; guide.el --- After the steps of the guide  -*- lexical-binding: t; -*-

;; The pattern of the guide is known, coloured and checked.  Called by tests/editors/run, with $WALE_PATTERN as the
;; pattern.

;;; Code:

(find-file (getenv "WALE_PATTERN"))
(font-lock-ensure)
(unless (and (eq major-mode 'wale-mode)
             (eq (get-text-property (point-min) 'face) 'font-lock-keyword-face))
  (error "The pattern is not known"))
(flymake-mode 1)
(flymake-start)
(let ((until (+ (float-time) 20)))
  (while (and (null (flymake-diagnostics)) (< (float-time) until))
    (accept-process-output nil 0.1)))
(let ((found (flymake-diagnostics)))
  (unless (= 1 (length found))
    (error "There are %d findings" (length found)))
  (unless (= 8 (line-number-at-pos (flymake-diagnostic-beg (car found))))
    (error "It is in line %d" (line-number-at-pos (flymake-diagnostic-beg (car found))))))

;;; guide.el ends here
